/** A bell box with its line side, from which the tests take things away and to which they add. */

import { type CheckedRecord, checkRecord, parseWiring, readRecord } from '../../packages/language/src/index.js';

export const house = `wiring "Bell box"
profile north-america

place basement
place porch { outdoor }

supply basement-circuit : branch-circuit in basement {
    breaker 15 A
    existing load 6 A
}

box bell-box in basement { volume 18 in3, metal, clamps }

splice hots in bell-box
splice neutrals in bell-box
splice grounds in bell-box

run panel-to-box : 14/2 with ground from basement to bell-box {
    black  basement-circuit.hot      to  hots
    white  basement-circuit.neutral  to  neutrals
    bare   basement-circuit.ground   to  grounds
}

run onward : 14/2 with ground from bell-box to basement {
    black  hots      to  unknown
    white  neutrals  to  unknown
    bare   grounds   to  unknown
}

ground grounds to bell-box

supply bell-tx : lead-wire-transformer in basement {
    output 16 V AC, 10 VA
    no-load 19.8 V
    lands line on hots
    lands neutral on neutrals
    lands ground on grounds
}

device hall-chime : one-note-chime { rating 16 V AC, 10 VA }
device porch-button : push-button in porch
splice joint

run tx-to-hall : 18/2, 9 m {
    red    bell-tx.a  to  hall-chime.trans
    white  joint      to  hall-chime.front
}

run tx-to-porch : 18/2, 12 m {
    red    bell-tx.b  to  porch-button.a
    white  joint      to  porch-button.b
}
`;

export function check(text: string): CheckedRecord {
  return checkRecord(readRecord(parseWiring('file:///records/house.wiring', text)));
}

/** The house with one stretch of its text replaced by another. */
export function edited(...edits: readonly (readonly [from: string, to: string])[]): string {
  return edits.reduce((text, [from, to]) => {
    if (!text.includes(from)) throw new Error(`not in the house: ${from}`);
    return text.replace(from, to);
  }, house);
}

/** "error neutral-missing", one for each finding. */
export function found(text: string): string[] {
  return check(text).findings.map(({ severity, code }) => `${severity} ${code}`);
}
