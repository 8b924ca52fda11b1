/** Records to mutate, with the names that a slip of the pen may confuse. */

import { type CheckedRecord, checkRecord, parseWiring, readRecord } from '../../packages/language/src/index.js';

export interface ReadRecord {
  readonly name: string;
  readonly text: string;
  readonly checked: CheckedRecord;
  /** Low-voltage terminals of each part. */
  readonly terminals: ReadonlyMap<string, readonly string[]>;
  readonly splices: readonly string[];
}

export function check(text: string): CheckedRecord {
  return checkRecord(readRecord(parseWiring('file:///records/mutant.wiring', text)));
}

export function readForMutation(name: string, text: string): ReadRecord {
  const checked = check(text);
  const { parts, installation } = checked.analysis;
  const terminals = [...parts.values()].map((part) => {
    const low = part.terminals.filter(({ lineSide }) => lineSide === undefined);
    return [part.name, low.map((terminal) => terminal.name)] as const;
  });
  return { name, text, checked, terminals: new Map(terminals), splices: installation.splices.map((one) => one.name) };
}

/** Terminals of a part on which something is landed. */
export function wiredTerminals({ checked, terminals }: ReadRecord, part: string): readonly string[] {
  const all = terminals.get(part) ?? [];
  return all.filter((terminal) => checked.analysis.landedOn(`${part}.${terminal}`).length > 0);
}
