import type { Budget } from '@ohmstead/record';
import { conductor, figures, off, on, rest, restPeak, unsolved } from '../figures.js';

/** A video doorbell on a supply too small, with a state that has no operating point, and a part that hangs free. */
export const budget: Budget = {
  version: 1,
  title: 'Alder Lane 12, video doorbell',
  profile: 'europe',
  circuits: [
    { supplies: ['bell-tx'], devices: ['porch-cam'], states: [rest, restPeak] },
    { supplies: [], devices: ['loft-buzzer'], states: [rest] },
  ],
  supplies: [
    {
      name: 'bell-tx',
      type: 'bell-transformer',
      place: null,
      windings: [
        {
          from: 'a',
          to: 'b',
          ratedVolts: 16,
          ratedVA: 10,
          noLoadVolts: 20,
          ohms: 6.4,
          assumed: ['no-load'],
          solved: [
            figures(rest, 18.85, 0.179),
            unsolved(restPeak, 'what is connected asks for more than supply and wire can give'),
          ],
          worst: { ...rest, va: 3.4, share: 0.287 },
          lasting: { ...rest, va: 3.4, share: 0.287 },
        },
      ],
      feeds: ['porch-cam'],
    },
  ],
  devices: [
    {
      name: 'porch-cam',
      type: 'video-doorbell',
      place: 'porch',
      role: null,
      rating: { volts: { least: 16, most: 24 }, system: 'AC' },
      band: { least: 14.4, most: 27.6 },
      needsVA: 20,
      elements: [
        {
          kind: 'load',
          from: 'a',
          to: 'b',
          solved: [
            on(figures(rest, 16.74, 0.179)),
            off(unsolved(restPeak, 'what is connected asks for more than supply and wire can give')),
          ],
          least: { ...rest, corner: 'low', volts: 13.2 },
          most: { ...rest, corner: 'high', volts: 19.9 },
          leastWorking: { ...rest, corner: 'low', volts: 13.2 },
        },
      ],
    },
    {
      name: 'loft-buzzer',
      type: null,
      place: 'loft',
      role: null,
      rating: null,
      band: { least: 12, most: null },
      needsVA: null,
      elements: [
        {
          kind: 'coil',
          from: 'a',
          to: 'b',
          solved: [off(unsolved(rest))],
          least: null,
          most: null,
          leastWorking: null,
        },
      ],
    },
  ],
  runs: [
    {
      name: 'tx-to-porch',
      cable: '2 x 0.5 mm2',
      lengthMetres: 21.5,
      conductors: [
        conductor('white', 'bell-tx.a', 'porch-cam.a', 0.741, [[rest, 0.179, 0.133]]),
        conductor('brown', 'bell-tx.b', 'porch-cam.b', 0.741, [[rest, 0.179, 0.133]]),
      ],
    },
    { name: 'loft-run', cable: '2 x 0.5 mm2', lengthMetres: null, conductors: [] },
  ],
  assumptions: ['`bell-tx`: a no-load voltage of 20 V (25 % regulation, common practice for 10 VA)'],
  findings: [
    {
      code: 'never-fed',
      severity: 'error',
      path: 'part/loft-buzzer',
      message: '`loft-buzzer` has no complete loop to a supply in any state.',
      related: [],
      parts: ['loft-buzzer'],
      fixes: [],
    },
    {
      code: 'supply-headroom',
      severity: 'info',
      path: 'part/bell-tx',
      message: 'Lasting loads ask for 10 VA of the 10 VA of `bell-tx`: nothing is left.',
      related: [],
      parts: ['bell-tx'],
      fixes: [],
      accepted: { because: 'the owner changes the transformer in spring' },
    },
    {
      code: 'device-undervoltage',
      severity: 'warning',
      path: 'part/porch-cam',
      message: '`porch-cam` gets 13.2 V at low mains and warm wire; it needs 14.4 V.',
      related: [],
      parts: ['porch-cam'],
      fixes: [],
    },
  ],
};
