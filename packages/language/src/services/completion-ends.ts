/** Where a conductor or jumper can be landed: terminals still free first, those of parts at the wanted place before the others. */

import type { End, Installation, Landing, Part, Place, Terminal } from '@ohmstead/record';

export interface EndOffer {
  /** `hall-chime.trans`, or a splice's name. */
  readonly end: string;
  /** The terminal's words and the part's type. */
  readonly says: string;
  readonly kind: 'terminal' | 'splice';
  /** What is landed on it already, but for what is being written now. */
  readonly landed: number;
  /** Lower comes first. */
  readonly tier: number;
}

export interface WantedEnd {
  /** The place at this end of the run, where it is known. */
  readonly place?: string;
  /** The run and colour being written: what it lands on by itself does not count as taken. */
  readonly run?: string;
  readonly colour?: string;
  /** An end that the same line uses already. */
  readonly other?: string;
}

export function endOffers(installation: Installation, wanted: WantedEnd): EndOffer[] {
  const landed = landedCounts(installation, wanted);
  const wherever = insideOf(installation.places, wanted.place);
  const offers: EndOffer[] = [];
  for (const part of [...installation.supplies, ...installation.devices]) {
    const type = part.type === undefined ? undefined : installation.partTypes.get(part.type);
    const here = part.place !== undefined && wherever.has(part.place);
    for (const terminal of type?.terminals ?? []) {
      const end = `${part.name}.${terminal.name}`;
      if (end === wanted.other) continue;
      const count = landed.get(end) ?? 0;
      const tier = tierOf(terminal, here, count);
      offers.push({ end, says: saysOf(part, terminal, count), kind: 'terminal', landed: count, tier });
    }
  }
  for (const splice of installation.splices) {
    if (splice.name === wanted.other) continue;
    const here = splice.place !== undefined && wherever.has(splice.place);
    const count = landed.get(splice.name) ?? 0;
    const most = splice.holds?.most;
    const full = most !== undefined && count >= most;
    const says = `splice, ${count}${most === undefined ? '' : ` of ${most}`} landed`;
    offers.push({ end: splice.name, says, kind: 'splice', landed: count, tier: full ? 5 : here ? 1 : 3 });
  }
  return offers.sort((one, other) => one.tier - other.tier || (one.end < other.end ? -1 : 1));
}

/** 0 free here, 1 a splice here, 2 free elsewhere, 3 a splice elsewhere, 4 one with room for more, 5 taken, 6 line side. */
function tierOf(terminal: Terminal, here: boolean, count: number): number {
  if (terminal.lineSide !== undefined) return 6;
  if (count > 0) return count < (terminal.holds ?? 1) ? 4 : 5;
  return here ? 0 : 2;
}

function saysOf(part: Part, terminal: Terminal, count: number): string {
  const words = terminal.words === undefined ? '' : `${terminal.words}, `;
  const taken = count === 0 ? '' : `, ${count} landed`;
  return `${words}${part.type ?? part.kind}${part.place === undefined ? '' : ` in ${part.place}`}${taken}`;
}

/** A place and all the places inside it. */
function insideOf(places: readonly Place[], name: string | undefined): ReadonlySet<string> {
  const inside = new Set<string>(name === undefined ? [] : [name]);
  let size = -1;
  while (inside.size !== size) {
    size = inside.size;
    for (const place of places) if (place.within !== undefined && inside.has(place.within)) inside.add(place.name);
  }
  return inside;
}

function nameOf(end: End): string {
  return end.terminal === undefined ? end.part : `${end.part}.${end.terminal}`;
}

function landedCounts(installation: Installation, wanted: WantedEnd): Map<string, number> {
  const counts = new Map<string, number>();
  const count = (end: End): void => {
    counts.set(nameOf(end), (counts.get(nameOf(end)) ?? 0) + 1);
  };
  const land = (landing: Landing | undefined): void => {
    if (landing?.kind === 'on') count(landing.end);
  };
  for (const run of installation.runs) {
    for (const conductor of run.conductors) {
      if (run.name === wanted.run && conductor.colour === wanted.colour) continue;
      land(conductor.from);
      land(conductor.to);
    }
  }
  for (const jumper of installation.jumpers) {
    count(jumper.from);
    count(jumper.to);
  }
  for (const part of [...installation.supplies, ...installation.devices]) {
    for (const lead of part.lands) {
      count({ part: part.name, terminal: lead.terminal });
      count(lead.on);
    }
  }
  return counts;
}
