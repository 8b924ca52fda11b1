/** The text of a new record, from the answers to a survey's four questions. */

export interface Survey {
  /** What feeds it. */
  readonly supply: { readonly type: string; readonly output: string };
  /** What it feeds. */
  readonly job: Job;
  /** Where the supply is, where the chime is, and where the door is. */
  readonly places: { readonly supply: string; readonly chime: string; readonly door: string };
  /** How far, as written: `9 m`, `21 ft 6 in`. Empty where it is not known yet. */
  readonly lengths: { readonly toChime: string; readonly toDoor: string };
}

/** A chime rung by a push button; a video doorbell with the chime bypassed; a video doorbell alone. */
export type Job = 'chime' | 'video-and-chime' | 'video';

export const supplyChoices: { label: string; detail?: string; supply: Survey['supply'] }[] = [
  { label: 'Bell transformer, 16 V, 10 VA', supply: { type: 'bell-transformer', output: '16 V AC, 10 VA' } },
  { label: 'Bell transformer, 16 V, 30 VA', supply: { type: 'bell-transformer', output: '16 V AC, 30 VA' } },
  { label: 'Plug-in transformer, 16 V, 30 VA', supply: { type: 'plug-in-transformer', output: '16 V AC, 30 VA' } },
  {
    label: 'A bell transformer whose label was not read',
    detail: 'Its figures are taken from the type and shown as assumed.',
    supply: { type: 'bell-transformer', output: '' },
  },
];

export const jobChoices: { label: string; detail?: string; job: Job }[] = [
  { label: 'A chime and a push button', job: 'chime' },
  {
    label: 'A video doorbell, with the chime left in place and bypassed',
    detail: 'The doorbell is powered all the time; the old chime no longer rings.',
    job: 'video-and-chime',
  },
  { label: 'A video doorbell alone', job: 'video' },
];

export const sampleSurvey: Survey = {
  supply: { type: 'bell-transformer', output: '16 V AC, 10 VA' },
  job: 'chime',
  places: { supply: 'basement', chime: 'hall', door: 'porch' },
  lengths: { toChime: '30 ft', toDoor: '21 ft 6 in' },
};

interface Landed {
  readonly colour: string;
  readonly from: string;
  readonly to: string;
}

function run(name: string, from: string, to: string, length: string, landed: readonly Landed[]): string {
  const measured = length === '' ? '' : `, ${length}`;
  const wide = (pick: (each: Landed) => string) => Math.max(...landed.map((each) => pick(each).length));
  const [colour, start] = [wide((each) => each.colour), wide((each) => each.from)];
  const lines = landed.map((each) => `    ${each.colour.padEnd(colour)}  ${each.from.padEnd(start)}  to  ${each.to}`);
  return [`run ${name} : 18/2 from ${from} to ${to}${measured} {`, ...lines, '}'].join('\n');
}

/** Statements apart by a blank line, conductor lines in columns: as the formatter leaves it. */
export function recordText({ supply, job, places, lengths }: Survey): string {
  const withChime = job !== 'video';
  const [door, doorPart] = job === 'chime' ? ['push-button', 'door-button'] : ['video-doorbell', 'door-cam'];
  const distinct = [...new Set([places.supply, ...(withChime ? [places.chime] : []), places.door])];
  const title = `${job === 'chime' ? 'Door bell' : 'Video doorbell'}, ${places.supply} to ${places.door}`;
  const placeLines = distinct.map((place) => (place === places.door ? `place ${place} { outdoor }` : `place ${place}`));
  const output = supply.output === '' ? '' : ` {\n    output ${supply.output}\n}`;
  // Set to ring a wired chime, a doorbell would short the supply through the bypass.
  const ring = job === 'video-and-chime' ? ' {\n    ring none\n}' : '';

  const statements = [
    `wiring "${title}"\nprofile north-america`,
    placeLines.join('\n'),
    `supply bell-tx : ${supply.type} in ${places.supply}${output}`,
    ...(withChime ? [`device chime : two-note-chime in ${places.chime}`] : []),
    `device ${doorPart} : ${door} in ${places.door}${ring}`,
    ...(withChime ? [`splice joint in ${places.supply}`] : []),
    ...(withChime
      ? [
          run('tx-to-chime', places.supply, places.chime, lengths.toChime, [
            { colour: 'red', from: 'bell-tx.a', to: 'chime.trans' },
            { colour: 'white', from: 'joint', to: 'chime.front' },
          ]),
        ]
      : []),
    run('tx-to-door', places.supply, places.door, lengths.toDoor, [
      { colour: 'red', from: withChime ? 'bell-tx.b' : 'bell-tx.a', to: `${doorPart}.a` },
      { colour: 'white', from: withChime ? 'joint' : 'bell-tx.b', to: `${doorPart}.b` },
    ]),
    ...(job === 'video-and-chime' ? ['jumper chime-bypass : chime.trans to chime.front'] : []),
  ];
  return `${statements.join('\n\n')}\n`;
}

/** A place's name as the notation takes it: letters, digits and hyphens, a letter first; undefined where nothing is left. */
export function placeName(words: string): string | undefined {
  const name = words
    .trim()
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^[-\p{N}]+|-+$/gu, '');
  return name === '' ? undefined : name;
}

/** Whether a length reads as the notation has it: `9 m`, `30 ft`, `21 ft 6 in`, `21' 6"`, `about 40 ft`. */
export function isLength(words: string): boolean {
  return /^(about )?(\d+(\.\d+)?\s?(m|cm|ft|in)|\d+ ft \d+(\.\d+)? in|\d+'( ?\d+")?)$/i.test(words.trim());
}
