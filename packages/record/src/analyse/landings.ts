/** What is landed where. */

import { type Landed, pointOf } from '../analysis-types.js';
import type { Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import type { ResolvedInstallation } from './build-network.js';

const ENDS = ['from', 'to'] as const;

/** By point: conductor ends (also of conductors that go nowhere else), jumpers and parts' own leads, in order of name. */
export function landings(
  installation: Installation,
  { runs, jumpers }: ResolvedInstallation,
): ReadonlyMap<string, readonly Landed[]> {
  const at = new Map<string, Landed[]>();
  const land = (point: string, landed: Landed): void => {
    const there = at.get(point);
    if (there === undefined) at.set(point, [landed]);
    else there.push(landed);
  };
  for (const { run } of runs.values()) {
    run.conductors.forEach((conductor, index) => {
      for (const end of ENDS) {
        const landing = conductor[end];
        if (conductor.spare || landing?.kind !== 'on') continue;
        land(pointOf(landing.end), { kind: 'conductor', run: run.name, index, colour: conductor.colour, end });
      }
    });
  }
  for (const jumper of jumpers.values()) {
    for (const end of ENDS) land(pointOf(jumper[end]), { kind: 'jumper', jumper: jumper.name, end });
  }
  for (const part of [...installation.supplies, ...installation.devices]) {
    for (const { terminal, on } of part.lands) land(pointOf(on), { kind: 'lead', part: part.name, terminal });
  }
  for (const there of at.values()) there.sort((a, b) => compare(nameOf(a), nameOf(b)));
  return at;
}

function nameOf(landed: Landed): string {
  switch (landed.kind) {
    case 'conductor':
      return `${landed.run} ${landed.colour} ${landed.end}`;
    case 'jumper':
      return `${landed.jumper} ${landed.end}`;
    case 'lead':
      return `${landed.part} ${landed.terminal}`;
  }
}
