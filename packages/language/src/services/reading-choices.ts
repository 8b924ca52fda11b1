/** What a reading can be made of, by name: points to hold a probe to, conductors, contacts to hold, parts to look at or listen to. */

import type { Installation } from '@ohmstead/record';
import { contactsOf } from './completion-readings.js';

interface PointGroup {
  readonly part: string;
  readonly points: readonly { readonly point: string; readonly words: string }[];
}

export interface ReadingChoices {
  /** Terminals on the low-voltage side by part, then the splices. */
  readonly points: readonly PointGroup[];
  /** Conductors by run. */
  readonly conductors: readonly PointGroup[];
  readonly contacts: readonly string[];
  readonly parts: readonly string[];
}

export function readingChoices(installation: Installation): ReadingChoices {
  const { supplies, devices, splices, runs, partTypes } = installation;
  const parts = [...supplies, ...devices].map(({ name, type }): PointGroup => {
    const terminals = (partTypes.get(type ?? '')?.terminals ?? []).filter(({ lineSide }) => lineSide === undefined);
    return {
      part: name,
      points: terminals.map((terminal) => ({
        point: `${name}.${terminal.name}`,
        words: terminal.words ?? terminal.name,
      })),
    };
  });
  const joints = splices.map(({ name }) => ({ point: name, words: name }));
  const groups = [...parts, ...(joints.length > 0 ? [{ part: 'Splices', points: joints }] : [])];
  return {
    points: groups.filter(({ points }) => points.length > 0),
    conductors: runs.flatMap(({ name, conductors }) => {
      const landed = conductors.filter(({ spare }) => !spare);
      const points = landed.map(({ colour }) => ({ point: `${name}.${colour}`, words: colour }));
      return points.length > 0 ? [{ part: name, points }] : [];
    }),
    contacts: contactsOf(installation),
    parts: devices.map(({ name }) => name),
  };
}
