import type { Budget } from '@ohmstead/record';
import { budget as starved } from '../starved/input.js';

export const hostileText = '<img src=x onerror=alert(1)>"\'&`|*_[x](javascript:y)\u001b[31m\nnext';

/** Every word of somebody else's choosing, chosen badly. */
export const budget: Budget = {
  ...starved,
  title: hostileText,
  profile: hostileText,
  circuits: [{ supplies: [hostileText], devices: [hostileText], states: [{ closed: [hostileText], loads: 'idle' }] }],
  supplies: starved.supplies.map((each) => ({
    ...each,
    name: hostileText,
    type: hostileText,
    place: hostileText,
    feeds: [hostileText],
  })),
  devices: starved.devices
    .slice(0, 1)
    .map((each) => ({ ...each, name: hostileText, type: hostileText, place: hostileText })),
  runs: starved.runs.slice(0, 1).map((each) => ({
    ...each,
    name: hostileText,
    cable: hostileText,
    conductors: each.conductors.map((one) => ({ ...one, colour: hostileText, from: hostileText, to: hostileText })),
  })),
  assumptions: [hostileText],
  findings: starved.findings.map((each) => ({
    ...each,
    code: hostileText,
    message: hostileText,
    accepted: { because: hostileText },
  })),
};
