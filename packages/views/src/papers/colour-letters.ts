/** Letters for colours as IEC 60757 has them. */

/** In the standard's order, in which the letters of a striped conductor are joined. */
const letters: readonly (readonly [letters: string, names: readonly string[]])[] = [
  ['BK', ['black']],
  ['BN', ['brown']],
  ['RD', ['red']],
  ['OG', ['orange']],
  ['YE', ['yellow']],
  ['GN', ['green']],
  ['BU', ['blue', 'light-blue']],
  ['VT', ['violet', 'purple']],
  ['GY', ['grey', 'gray']],
  ['WH', ['white']],
  ['PK', ['pink']],
  ['GD', ['gold']],
  ['TQ', ['turquoise']],
  ['SR', ['silver']],
];

/** "RD"; "RDWH" for red/white; "GNYE" for green and yellow; undefined for a number or a colour that the standard lacks. */
export function colourLetters(colour: string): string | undefined {
  const parts = colour.toLowerCase().split('/');
  const places = parts.map((part) => letters.findIndex(([, names]) => names.includes(part.trim())));
  if (places.includes(-1)) return undefined;
  const joined = [...new Set(places)].sort((a, b) => a - b).map((place) => letters[place]![0]);
  // The standard joins in its own order but for this pair, which it names as one colour.
  return joined.length === 2 && joined.includes('GN') && joined.includes('YE') ? 'GNYE' : joined.join('');
}

/** "red RD", or the name alone where there are no letters. */
export function colourWords(colour: string): string {
  const code = colourLetters(colour);
  return code === undefined ? colour : `${colour} ${code}`;
}
