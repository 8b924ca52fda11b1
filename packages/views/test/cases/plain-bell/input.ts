import type { Budget, BudgetElement, StateKey } from '@ohmstead/record';
import { backHeld, bothHeld, conductor, figures, held, type On, off, on, rest } from '../figures.js';

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
export const budget: Budget = {
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
          worst: { ...bothHeld, va: 12.9, share: 1.4416 },
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
