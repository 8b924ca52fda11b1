// biome-ignore-all lint/suspicious/noTemplateCurlyInString: the texts are snippets, whose places have this form
/** What each statement word writes when it is chosen at a line's start. */

import type { Installation } from '@ohmstead/record';

export interface StatementSnippet {
  readonly word: string;
  readonly snippet: string;
  readonly says: string;
}

/** Names that the snippets offer as choices. */
export interface SnippetNames {
  readonly supplyTypes: readonly string[];
  readonly deviceTypes: readonly string[];
  readonly places: readonly string[];
  /** Of a record in metres and mm2. */
  readonly metric: boolean;
}

/** The editor's own date. */
export const TODAY = '${CURRENT_YEAR}-${CURRENT_MONTH}-${CURRENT_DATE}';

export function statementSnippets(known: SnippetNames): StatementSnippet[] {
  const supply = choice(2, known.supplyTypes, 'type');
  const device = choice(2, known.deviceTypes, 'type');
  const place = (stop: number): string => choice(stop, known.places, 'place');
  const [volts, va, cable, length] = known.metric ? ['12', '8', '2 x 0.5 mm2', '9 m'] : ['16', '10', '18/2', '30 ft'];
  const one = (word: string, snippet: string, says: string): StatementSnippet => ({ word, snippet, says });
  return [
    one('wiring', 'wiring "${1:title}"', "the record's title"),
    one('profile', 'profile ${1|north-america,europe,united-kingdom|}', 'whose rules and habits apply'),
    one('place', 'place ${1:name}', 'somewhere in the building'),
    one(
      'supply',
      `supply \${1:name} : ${supply} in ${place(3)} {\n    output \${4:${volts}} V AC, \${5:${va}} VA\n}`,
      'what feeds a circuit',
    ),
    one('device', `device \${1:name} : ${device} in ${place(3)}`, 'what is fed, or switches'),
    one('splice', `splice \${1:name} in ${place(2)}`, 'conductors joined under one connector'),
    one(
      'run',
      `run \${1:name} : \${2:${cable}} from ${place(3)} to ${place(4)}, \${5:${length}} {\n    $0\n}`,
      'one cable, end to end',
    ),
    one('jumper', 'jumper ${1:name} : $2 to $3', 'a short link between two terminals'),
    one('pigtail', 'pigtail $1 to $2', 'a short tail between a splice and a screw'),
    one(
      'box',
      `box \${1:name} in ${place(2)} { volume \${3:18} in3, \${4:metal} }`,
      'an enclosure for joints at mains voltage',
    ),
    one('ground', 'ground $1 to $2', 'equipment grounding'),
    one('readings', `readings "\${1:words}" on ${TODAY} {\n    $0\n}`, 'what a meter showed'),
    one('accept', 'accept $1 because "${2:reason}"', 'a finding somebody takes responsibility for'),
    one('import', 'import "${1:path}"', "another file's types, places and parts"),
    one('changes', 'changes "${1:path}"', 'this file is a rewire plan of that record'),
    one(
      'device type',
      'device type ${1:name} "${2:words}" {\n    terminal ${3:a}, ${4:b}\n    rating ${5:16} V AC, ${6:10} VA\n    $0\n}',
      'a new kind of device',
    ),
    one(
      'supply type',
      'supply type ${1:name} "${2:words}" {\n    terminal ${3:a}, ${4:b}\n    winding ${3:a} to ${4:b} { as rated }\n    output ${5:16} V AC, ${6:10} VA\n}',
      'a new kind of supply',
    ),
    one(
      'cable type',
      'cable type ${1:name} "${2:words}" {\n    conductors ${3:18} AWG ${4:red}, ${5:white}\n}',
      'a new cable',
    ),
  ];
}

/** Statements of a rewire plan that are written in one go, with names of the record that it changes; the others are completed word by word. */
export function planSnippets(known: SnippetNames, base: Installation): StatementSnippet[] {
  const nameOf = (list: readonly { readonly name: string }[]): string =>
    choice(1, list.map(({ name }) => name).sort(), 'name');
  const [supply, device, run] = [nameOf(base.supplies), nameOf(base.devices), nameOf(base.runs)];
  return [
    {
      word: 'replace supply',
      snippet: `replace supply ${supply} { output \${2:16} V AC, \${3:30} VA }`,
      says: 'another one under its name, in its place',
    },
    {
      word: 'replace device',
      snippet: `replace device ${device} with \${2:name} : ${choice(3, known.deviceTypes, 'type')}`,
      says: 'another one on the same conductors',
    },
    {
      word: 'replace run',
      snippet: `replace run ${run} : \${2:${known.metric ? '2 x 0.75 mm2' : '16/2'}}`,
      says: 'another cable in its place',
    },
    {
      word: 'relocate',
      snippet: `relocate ${nameOf([...base.supplies, ...base.devices, ...base.splices])} to ${choice(2, known.places, 'place')}`,
      says: 'a part in another place, and its runs with it',
    },
  ];
}

function choice(stop: number, names: readonly string[], fallback: string): string {
  return names.length === 0 ? `\${${stop}:${fallback}}` : `\${${stop}|${names.join(',')}|}`;
}
