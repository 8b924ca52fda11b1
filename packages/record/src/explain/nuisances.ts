/** What may be off in a sound house: what a record does not say for sure, and how far it may be from the truth. */

import type { House } from './house.js';
import { spreads } from './practice.js';

/** Shares by which a whole half-width of it moves branches' ohms and EMFs. */
export interface Nuisance {
  /** For "leans on …": "the mains". */
  readonly words: string;
  /** Set for the mains: they differ from one block of readings to the next. */
  readonly perBlock?: true;
  readonly effects: readonly { readonly branch: number; readonly ohms?: number; readonly emf?: number }[];
}

export function nuisancesOf(house: House): readonly Nuisance[] {
  return [mains(house), ...windings(house), ...elements(house), ...runs(house), ...joints(house)];
}

function isRegulated(house: House, branch: number): boolean {
  const { element } = house.branches[branch]!;
  return element?.system === 'DC' && house.analysis.parts.get(element.part)?.facts.regulated === true;
}

function windingBranches(house: House): readonly number[] {
  return house.branches.flatMap(({ kind }, branch) => (kind === 'winding' ? [branch] : []));
}

function mains(house: House): Nuisance {
  const effects = windingBranches(house)
    .filter((branch) => !isRegulated(house, branch))
    .map((branch) => ({ branch, emf: spreads.mains }));
  return { words: 'the mains', perBlock: true, effects };
}

function windings(house: House): readonly Nuisance[] {
  const byPart = new Map<string, { branch: number; ohms: number; emf: number }[]>();
  for (const branch of windingBranches(house)) {
    const { element } = house.branches[branch]!;
    if (element === undefined) continue;
    const list = byPart.get(element.part) ?? [];
    byPart.set(element.part, list);
    if (isRegulated(house, branch)) {
      list.push({ branch, ohms: 0, emf: spreads.regulatedOutput });
      continue;
    }
    const { ratedVolts = 0, noLoadVolts = 0, assumed } = element;
    const isAssumed = assumed.some(({ what }) => what === 'no-load');
    const facts = house.analysis.parts.get(element.part)?.facts;
    const rise = noLoadVolts > 0 ? Math.max(noLoadVolts - ratedVolts, 0) / noLoadVolts : 0;
    const isMeasured = facts?.measuredOpenVolts !== undefined;
    list.push({
      branch,
      ohms: isAssumed ? spreads.assumedRegulation : spreads.statedRegulation,
      emf: isAssumed && !isMeasured ? rise * spreads.assumedRegulation : 0,
    });
  }
  return [...byPart].map(([part, effects]) => ({ words: `how far \`${part}\` sags`, effects }));
}

function elements(house: House): readonly Nuisance[] {
  return house.branches.flatMap(({ kind, element }, branch): Nuisance[] => {
    const one = (words: string, ohms: number): Nuisance[] => [{ words, effects: [{ branch, ohms }] }];
    if (element === undefined) return [];
    switch (kind) {
      case 'coil':
        return one(`the coil of \`${element.part}\``, spreads.coil);
      case 'lamp':
        return one(`the lamp of \`${element.part}\``, spreads.lamp);
      case 'ohmic':
        return one(`\`${element.part}\``, spreads.resistor);
      case 'bypass':
        return one(`\`${element.part}\``, spreads.coil);
      case 'contact':
        return one(`the contact of \`${element.part}\``, spreads.closedContact);
      case 'load': {
        const { idle = 0, peak = 0 } = element.draws ?? {};
        const middle = idle + peak;
        const isSounder = house.analysis.parts.get(element.part)?.role === 'chime';
        const share = isSounder || middle === 0 ? spreads.coil : Math.max((peak - idle) / middle, 0.1);
        return one(`what \`${element.part}\` draws`, share);
      }
      default:
        return [];
    }
  });
}

/** The joints of one run together. */
function joints(house: House): readonly Nuisance[] {
  const byRun = new Map<string, number[]>();
  for (const { run, ends } of house.conductors) {
    const list = byRun.get(run) ?? [];
    byRun.set(run, list);
    for (const { joint } of ends) if (joint !== undefined) list.push(joint);
  }
  return [...byRun].flatMap(([run, branches]): Nuisance[] =>
    branches.length === 0
      ? []
      : [{ words: `the joints of \`${run}\``, effects: branches.map((branch) => ({ branch, ohms: spreads.joint })) }],
  );
}

function runs(house: House): readonly Nuisance[] {
  return [...house.analysis.runs.values()].flatMap(({ run, conductors }): Nuisance[] => {
    const wires = house.conductors.filter((one) => one.run === run.name).map(({ wire }) => wire);
    if (wires.length === 0) return [];
    const isKnown = conductors.some(({ ohms }) => ohms !== undefined);
    const isAbout = (run.loopOhms ?? run.length)?.about === true;
    const share = isKnown ? (isAbout ? spreads.aboutLength : spreads.measuredLength) : spreads.unknownLength;
    const effects = wires.map((branch) => ({ branch, ohms: share }));
    return [{ words: `the length of \`${run.name}\``, effects }];
  });
}
