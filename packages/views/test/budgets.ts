/** Budgets made by hand, as the analysis would hand them over. The figures are chosen to be told apart, not computed. */

import type { Budget, BudgetConductor, BudgetElement, SolvedFigures, StateKey } from '@ohmstead/record';

export const rest: StateKey = { closed: [], loads: 'idle' };
export const held: StateKey = { closed: ['porch-button'], loads: 'idle' };
export const backHeld: StateKey = { closed: ['back-button'], loads: 'idle' };
export const bothHeld: StateKey = { closed: ['back-button', 'porch-button'], loads: 'idle' };
export const restPeak: StateKey = { closed: [], loads: 'peak' };

export function figures(state: StateKey, volts: number, amps: number, watts = volts * amps * 0.7): SolvedFigures {
  return { ...state, volts, amps, va: volts * amps, watts };
}

export function unsolved(state: StateKey, reason?: string): SolvedFigures {
  return { ...state, volts: null, amps: null, va: null, watts: null, ...(reason !== undefined && { reason }) };
}

type On = BudgetElement['solved'][number];
export const on = (solved: SolvedFigures): On => ({ ...solved, on: true });
export const off = (solved: SolvedFigures): On => ({ ...solved, on: false });

function conductor(
  colour: string,
  from: string,
  to: string,
  ohms: number | null,
  drops: [StateKey, number, number][],
): BudgetConductor {
  return { colour, from, to, ohms, solved: drops.map(([state, amps, dropVolts]) => ({ ...state, amps, dropVolts })) };
}

const coil = (to: string, solved: On[], most: number, when: StateKey): BudgetElement => ({
  kind: 'coil',
  from: 'trans',
  to,
  solved,
  least: { ...rest, corner: 'nominal', volts: 0 },
  most: { ...when, corner: 'high', volts: most },
  leastWorking: { ...bothHeld, corner: 'low', volts: 11.6 },
});

/** A plain bell with two doors, nothing to find. */
export const plainBell: Budget = {
  version: 1,
  title: 'Alder Lane 12, entry bell',
  profile: 'north-america',
  circuits: [
    {
      supplies: ['bell-tx'],
      devices: ['back-button', 'hall-chime', 'porch-button'],
      states: [rest, backHeld, held, bothHeld],
    },
  ],
  supplies: [
    {
      name: 'bell-tx',
      type: 'bell-transformer',
      place: 'basement',
      windings: [
        {
          from: 'a',
          to: 'b',
          ratedVolts: 16,
          ratedVA: 10,
          noLoadVolts: 19.8,
          ohms: 6.08,
          assumed: [],
          solved: [
            figures(rest, 19.8, 0),
            figures(backHeld, 16.91, 0.475),
            figures(held, 16.72, 0.507),
            figures(bothHeld, 14.32, 0.901),
          ],
          worst: { ...bothHeld, va: 12.9, share: 1.442 },
          lasting: { ...rest, va: 0, share: 0 },
        },
      ],
      feeds: ['back-button', 'hall-chime', 'porch-button'],
    },
  ],
  devices: [
    {
      name: 'hall-chime',
      type: 'two-note-chime',
      place: 'hall',
      role: 'chime',
      rating: { volts: { least: 16, most: 16 }, system: 'AC', voltAmperes: 10 },
      band: { least: 11.2, most: 18.4 },
      needsVA: null,
      elements: [
        coil(
          'front',
          [
            off(figures(rest, 0, 0)),
            off(figures(backHeld, 0, 0)),
            on(figures(held, 15.68, 0.507)),
            on(figures(bothHeld, 13.11, 0.436)),
          ],
          17.2,
          held,
        ),
        coil(
          'rear',
          [
            off(figures(rest, 0, 0)),
            on(figures(backHeld, 15.02, 0.475)),
            off(figures(held, 0, 0)),
            on(figures(bothHeld, 12.71, 0.467)),
          ],
          16.6,
          backHeld,
        ),
      ],
    },
    {
      name: 'porch-button',
      type: 'push-button',
      place: 'porch',
      role: 'button',
      rating: { volts: { least: 30, most: 30 }, amps: 1 },
      band: { least: null, most: null },
      needsVA: null,
      elements: [
        {
          kind: 'contact',
          from: 'a',
          to: 'b',
          solved: [
            off(figures(rest, 19.8, 0)),
            off(figures(backHeld, 19.1, 0)),
            on(figures(held, 0, 0.507)),
            on(figures(bothHeld, 0, 0.436)),
          ],
          least: { ...held, corner: 'nominal', volts: 0 },
          most: { ...rest, corner: 'high', volts: 20.8 },
          leastWorking: null,
        },
      ],
    },
    {
      name: 'back-button',
      type: 'push-button',
      place: 'back-door',
      role: 'button',
      rating: null,
      band: { least: null, most: null },
      needsVA: null,
      elements: [],
    },
  ],
  runs: [
    {
      name: 'tx-to-hall',
      cable: '18/2',
      lengthMetres: 9,
      conductors: [
        conductor('red', 'bell-tx.a', 'hall-chime.trans', 0.188, [
          [rest, 0, 0],
          [backHeld, 0.475, 0.089],
          [held, 0.507, 0.095],
          [bothHeld, 0.901, 0.169],
        ]),
        conductor('white', 'joist-joint', 'hall-chime.front', 0.188, [
          [rest, 0, 0],
          [backHeld, 0, 0],
          [held, -0.507, -0.095],
          [bothHeld, -0.436, -0.082],
        ]),
      ],
    },
    {
      name: 'tx-to-porch',
      cable: '18/2',
      lengthMetres: 6.5532,
      conductors: [
        conductor('red/white', 'bell-tx.b', 'porch-button.a', 0.137, [
          [rest, 0, 0],
          [held, 0.507, 0.069],
        ]),
        conductor('1', 'joist-joint', 'porch-button.b', null, []),
      ],
    },
  ],
  assumptions: [],
  findings: [],
};

/** A video doorbell on a supply too small, with a state that has no operating point, and a part that hangs free. */
export const starved: Budget = {
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

const hostileText = '<img src=x onerror=alert(1)>"\'&`|*_[x](javascript:y)\u001b[31m\nnext';

/** Every word of somebody else's choosing, chosen badly. */
export const hostile: Budget = {
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
