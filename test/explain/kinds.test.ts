// Each kind of fault once, in houses drawn about a simple record: found among the first three, and never excluded.
import { describe, expect, test } from 'vitest';
import { drawsFrom } from './draws.js';
import { HiddenHouse } from './hidden-house.js';
import { hunt } from './hunt.js';
import { analysisOf } from './records.js';
import { trueFaults } from './true-faults.js';

const BELL = analysisOf(`wiring "A bell with two pushes"
profile north-america
place basement
place hall
place porch { outdoor }
place yard { outdoor }
supply bell-tx : bell-transformer in basement {
    output 16 V AC, 10 VA
}
device hall-chime : two-note-chime in hall {
    rating 16 V AC, 10 VA
}
device porch-button : push-button in porch
device yard-button : lit-push-button in yard
splice hot-joint in basement
splice front-joint in basement
splice rear-joint in basement
run tx-to-hall : 18/3 from basement to hall, 9 m {
    red    bell-tx.a    to  hall-chime.trans
    white  front-joint  to  hall-chime.front
    green  rear-joint   to  hall-chime.rear
}
pigtail bell-tx.b to hot-joint
run tx-to-porch : 18/2 from basement to porch, 7 m {
    red    hot-joint    to  porch-button.a
    white  front-joint  to  porch-button.b
}
run tx-to-yard : 18/2 from basement to yard, 12 m {
    red    hot-joint   to  yard-button.a
    white  rear-joint  to  yard-button.b
}`);

const DOORBELL = analysisOf(`wiring "A doorbell with the chime bypassed"
profile north-america
place basement
place hall
place porch { outdoor }
supply bell-tx : bell-transformer in basement {
    output 16 V AC, 30 VA
}
device hall-chime : one-note-chime in hall {
    rating 16 V AC, 10 VA
}
device porch-cam : video-doorbell in porch {
    rating 16..24 V AC
    ring none
}
splice joist-joint in basement
run tx-to-hall : 18/2 from basement to hall, 9 m {
    red    bell-tx.a    to  hall-chime.trans
    white  joist-joint  to  hall-chime.front
}
run tx-to-porch : 18/2 from basement to porch, 7 m {
    red    bell-tx.b    to  porch-cam.a
    white  joist-joint  to  porch-cam.b
}
jumper chime-bypass : hall-chime.trans to hall-chime.front`);

const KINDS: readonly (readonly [typeof BELL, string])[] = [
  [BELL, 'contact-corroded porch-button'],
  [BELL, 'contact-stuck-open yard-button'],
  [BELL, 'contact-stuck-closed porch-button'],
  [BELL, 'joint-loose tx-to-yard.red@to'],
  [BELL, 'conductor-open tx-to-porch.white'],
  [BELL, 'pair-shorted tx-to-hall.red-white'],
  [BELL, 'ends-swapped tx-to-hall.white@to tx-to-hall.green@to'],
  [BELL, 'coil-open hall-chime front'],
  [BELL, 'coil-turns-shorted hall-chime rear'],
  [BELL, 'plunger-stuck hall-chime front'],
  [BELL, 'bypass-left-in hall-chime.trans hall-chime.front'],
  [BELL, 'supply-dead bell-tx'],
  [BELL, 'supply-off bell-tx'],
  [BELL, 'supply-tired bell-tx'],
  [BELL, 'supply-other-volts bell-tx 24'],
  [BELL, 'run-longer-or-thinner tx-to-yard'],
  [DOORBELL, 'load-dead porch-cam'],
  [DOORBELL, 'bypass-left-out jumper/chime-bypass'],
];

describe('a fault of each kind', () => {
  test.each(KINDS)('$1', (record, id) => {
    const draws = drawsFrom(42);
    const house = new HiddenHouse(record, draws);
    const fault = trueFaults(record).find((one) => one.id === id);
    expect(fault, id).toBeDefined();
    fault!.put(house, draws);
    const found = hunt(record, house, id);
    expect(found.excludedBy).toBeUndefined();
    expect(found.place).toBeLessThanOrEqual(3);
  });
});
