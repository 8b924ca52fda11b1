/**
 * Where a finding belongs, as a path into the record: `part/bell-tx`, `part/bell-tx/output`, `run/tx-to-hall/red/to`.
 * The reader of the text maps a path to lines; one that it does not know falls back to the nearest path above it.
 */
export type RecordPath = string;

/** The facts of a part that have a place of their own in the text. */
export type FactName =
  | 'type'
  | 'place'
  | 'output'
  | 'no-load'
  | 'regulated'
  | 'accepts'
  | 'measured-open'
  | 'measured-loaded'
  | 'needs'
  | 'ring'
  | 'rating'
  | 'limits'
  | 'together'
  | 'never'
  | 'draws'
  | 'peaks'
  | 'power-factor'
  | 'stays-on'
  | 'rings'
  | 'hums'
  | 'dc'
  | 'pulls-in'
  | 'inrush'
  | 'releases'
  | 'battery'
  | 'standby'
  | 'budget'
  | 'breaker'
  | 'existing-load'
  | 'circuit';

export const at = {
  record: (): RecordPath => 'record',
  profile: (): RecordPath => 'record/profile',
  /** Of a box too. */
  place: (name: string): RecordPath => `place/${name}`,
  boxVolume: (box: string): RecordPath => `place/${box}/volume`,
  ground: (index: number): RecordPath => `ground/${index}`,
  /** A supply, device or splice: its name's token. */
  part: (name: string): RecordPath => `part/${name}`,
  fact: (part: string, fact: FactName): RecordPath => `part/${part}/${fact}`,
  /** The `index`th `lands` line of a part. */
  lands: (part: string, index: number): RecordPath => `part/${part}/lands/${index}`,
  run: (name: string): RecordPath => `run/${name}`,
  cable: (run: string): RecordPath => `run/${run}/cable`,
  length: (run: string): RecordPath => `run/${run}/length`,
  /** The `index`th `beside` line of a run. */
  beside: (run: string, index: number): RecordPath => `run/${run}/beside/${index}`,
  runPlace: (run: string, end: 'from' | 'to'): RecordPath => `run/${run}/place-${end}`,
  /** A conductor's colour token; `index` counts the run's stated conductors. */
  conductor: (run: string, index: number): RecordPath => `run/${run}/conductor/${index}`,
  conductorEnd: (run: string, index: number, end: 'from' | 'to'): RecordPath => `run/${run}/conductor/${index}/${end}`,
  jumper: (name: string): RecordPath => `jumper/${name}`,
  jumperEnd: (name: string, end: 'from' | 'to'): RecordPath => `jumper/${name}/${end}`,
  accept: (index: number): RecordPath => `accept/${index}`,
  readings: (block: number): RecordPath => `readings/${block}`,
  reading: (block: number, index: number): RecordPath => `readings/${block}/${index}`,
} as const;

/** The path above: `run/a/red` for `run/a/red/to`; undefined for a topmost one. */
export function pathAbove(path: RecordPath): RecordPath | undefined {
  const cut = path.lastIndexOf('/');
  return cut < 0 ? undefined : path.slice(0, cut);
}
