/** The text of a type of one's own, from what its label says. */

export interface Label {
  readonly kind: PartKind;
  /** What it is called on its box: "Two-note gong". */
  readonly words: string;
  /** The label's figures as the notation writes them: `16 V AC, 10 VA`. */
  readonly figures: string;
  /** The words beside its screws or leads, two or more. */
  readonly screws: readonly string[];
}

export type PartKind = 'chime' | 'electronics' | 'lamp' | 'valve' | 'lock' | 'supply' | 'contact';

export const kindChoices: { label: string; detail: string; part: PartKind }[] = [
  { label: 'A bell, chime or buzzer', detail: 'It rings while the supply is across its coil.', part: 'chime' },
  { label: 'A camera, doorbell, thermostat or other electronics', detail: 'It takes its watts.', part: 'electronics' },
  { label: 'A valve, relay, contactor or strike', detail: 'Its coil pulls in when it is called.', part: 'valve' },
  { label: 'A magnetic lock', detail: 'It holds while it is fed.', part: 'lock' },
  { label: 'A lamp', detail: 'Ohmic, by its watts.', part: 'lamp' },
  { label: 'A push button or switch', detail: 'Volts and amps are what its contact carries.', part: 'contact' },
  { label: 'A transformer or power supply', detail: 'Its output as the label states it.', part: 'supply' },
];

const NUMBER = String.raw`\d+(?:\.\d+)?`;
const VOLTS = new RegExp(String.raw`^${NUMBER}(?:(?:\.\.|-)${NUMBER})?\s?V(?:\s?(?:AC|DC))?$`, 'i');
const POWER = new RegExp(String.raw`^${NUMBER}\s?(?:VA|W|mA|A)$`, 'i');

/** What is amiss with a label's figures; undefined where the notation reads them. */
export function labelProblem(figures: string, kind: PartKind): string | undefined {
  const [volts = '', power, ...others] = figures.split(',').map((each) => each.trim());
  const example = kind === 'supply' ? '16 V AC, 30 VA' : kind === 'contact' ? '30 V, 1 A' : '16 V AC, 10 VA';
  if (!VOLTS.test(volts)) return `Begin with the volts, as in ${example} or 12-24 V DC, 6 W`;
  if (others.length > 0) return `Volts and one more figure, as in ${example}`;
  if (power === undefined) return `Then VA, W, A or mA, as in ${example}`;
  if (!POWER.test(power)) return `${power} is no figure in VA, W, A or mA, as in ${example}`;
  if (kind === 'supply' && /W$/i.test(power)) return `A supply's label has VA or A, as in ${example}`;
  if (kind === 'contact' && !/A$/i.test(power.replace(/VA$/i, ''))) return 'A contact carries amps, as in 30 V, 1 A';
  return undefined;
}

/** A name of the notation from any words; `fallback` where nothing is left of them. */
function nameFrom(words: string, fallback: string): string {
  const name = words
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return /^[a-z]/.test(name) ? name : fallback;
}

/** Names of the screws, each once. */
function terminalNames(screws: readonly string[]): readonly string[] {
  const names: string[] = [];
  for (const [index, words] of screws.entries()) {
    const sign = words.trim() === '+' ? 'plus' : words.trim() === '-' ? 'minus' : undefined;
    const name = sign ?? nameFrom(words, String.fromCharCode(97 + index));
    names.push(names.includes(name) ? `${name}-${index + 1}` : name);
  }
  return names;
}

/** A record file that holds one type, laid out as the formatter leaves it, with what a label never states marked as to be looked up. */
export function typeText({ kind, words, figures, screws }: Label): string {
  const names = terminalNames(screws);
  const [a = 'a', b = 'b', ...others] = names;
  const terminals = names.map((name, index) => {
    const printed = screws[index]!.trim().replaceAll('"', '');
    return `    terminal ${name}${printed === '' || printed === name ? '' : ` "${printed}"`}`;
  });
  const of = kind === 'supply' ? 'supply' : 'device';
  const quoted = words.trim().replaceAll('"', '');
  const spare =
    others.length === 0 ? [] : [`    // What lies between ${others.join(', ')} and the rest is still to be said.`];
  return [
    'wiring "Our parts"',
    '',
    `${of} type ${nameFrom(words, 'our-part')} "${quoted}" {`,
    ...terminals,
    ...inside(kind, figures.trim(), a, b),
    ...spare,
    '}',
    '',
  ].join('\n');
}

/** The label and what lies between the first two screws. */
function inside(kind: PartKind, figures: string, a: string, b: string): readonly string[] {
  switch (kind) {
    case 'supply':
      return [`    winding ${a} to ${b} { as rated }`, `    output ${figures}`];
    case 'contact':
      return [`    rating ${figures}`, `    contact ${a} to ${b} momentary`, '    role button'];
    case 'lamp':
      return [`    rating ${figures}`, `    lamp ${a} to ${b} { as rated }`, '    role lamp'];
    case 'electronics':
      return [
        `    rating ${figures}`,
        '    // See its manual: what it draws at rest and at its peak, and the volts below which it is off.',
        `    load ${a} to ${b} { as rated }`,
      ];
    case 'chime':
      return [
        `    rating ${figures}`,
        '    // Common practice, no source: rings from 70 % of its volts, may hum from 25 % of its amps.',
        `    coil ${a} to ${b} { as rated, rings from 70 %, hums from 25 % }`,
        '    role chime',
      ];
    case 'valve':
      return [
        `    rating ${figures}`,
        '    // Common practice, no source: pulls in from 80 % of its volts; add its `inrush` from the manual.',
        `    coil ${a} to ${b} { as rated, pulls-in from 80 % }`,
        '    role valve',
      ];
    case 'lock':
      return [
        `    rating ${figures}`,
        '    // Common practice, no source: lets go below a tenth of its volts.',
        `    coil ${a} to ${b} { as rated, releases below 10 % }`,
        '    role lock',
      ];
  }
}
