/** What insulation looks like: the only literal colours of the views besides a page's own. */

/** Insulation as it looks on the cable; a name that is not here gets no swatch. */
const insulation: Record<string, string> = {
  red: '#c62828',
  white: '#f5f5f2',
  green: '#2e7d32',
  blue: '#1f5fae',
  yellow: '#f2c61f',
  brown: '#6f4423',
  orange: '#e07a1f',
  black: '#1c1c1c',
  grey: '#8c8c8c',
  gray: '#8c8c8c',
  pink: '#e79ab5',
  violet: '#6b3fa0',
  purple: '#6b3fa0',
  tan: '#c9a97c',
};

/** The colour of the insulation and of its stripe; undefined for a name that is no colour. */
export function insulationColours(colour: string): readonly (string | undefined)[] {
  return colour.split('/').map((name) => (Object.hasOwn(insulation, name) ? insulation[name] : undefined));
}
