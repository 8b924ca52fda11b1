/** Armatures: valves, relays, strikes and locks. Whether one pulls in when it is called, rests when it is not, and lets go when it should. */

import type { Analysis, CircuitAnalysis, Condition, ResolvedElement, Solved } from '../analysis-types.js';
import type { Installation, PartElement, PartType } from '../model.js';
import { circuitIn } from './mends.js';
import { extreme, studyOf, voltsAcross } from './study.js';
import { trial } from './what-if.js';

export interface PullInShortfall {
  readonly severity: 'error' | 'warning';
  readonly condition: Condition;
  readonly solved: Solved;
  readonly volts: number;
  readonly pullsInFrom: number;
}

/** Contacts that call for the coil: with them it has the supply across it, at rest it has not. */
function isCalled(analysis: Analysis, coil: ResolvedElement, closed: readonly string[]): boolean {
  const study = studyOf(analysis);
  return closed.length > 0 && study.isFullyFed(coil, closed) && !study.isFullyFed(coil, []);
}

/** The worst state in which a coil is called and gets less than it pulls in from while it takes its inrush and the others hold. */
export function judgePullIn(analysis: Analysis, coil: ResolvedElement): PullInShortfall | undefined {
  const pullsInFrom = coil.pullsInFromVolts;
  if (pullsInFrom === undefined) return undefined;
  const starting = whileStarting(analysis, coil);
  const around = circuitIn(starting, coil);
  const same = starting.elements.get(coil.id);
  if (around === undefined || same === undefined) return undefined;
  const found: PullInShortfall[] = [];
  for (const condition of ['nominal', 'low'] as const) {
    const severity = condition === 'nominal' ? 'error' : 'warning';
    for (const solved of studyOf(starting).figures(around, condition)) {
      if (!isCalled(starting, same, solved.state.closed)) continue;
      const volts = voltsAcross(solved, same);
      if (volts === undefined || volts >= pullsInFrom - 1e-9) continue;
      found.push({ severity, condition, solved, volts, pullsInFrom });
    }
  }
  const errors = found.filter(({ severity }) => severity === 'error');
  return extreme(errors.length > 0 ? errors : found, ({ volts }) => volts, 'least')?.item;
}

/** The record with one coil at what it takes until its armature is home; the same record where no inrush is stated. */
function whileStarting(analysis: Analysis, coil: ResolvedElement): Analysis {
  const { inrushVoltAmperes, ratedVolts } = coil;
  if (inrushVoltAmperes === undefined || ratedVolts === undefined) return analysis;
  const element: PartElement = {
    ...coil.element,
    kind: 'coil',
    asRated: false,
    volts: ratedVolts,
    voltAmperes: inrushVoltAmperes,
    amps: undefined,
    system: coil.system,
  };
  return trial(analysis, [coil.part], `inrush ${coil.id} ${inrushVoltAmperes}`, (around) =>
    withElement(around, coil, element),
  );
}

function withElement(installation: Installation, { part, index }: ResolvedElement, element: PartElement): Installation {
  const owner = [...installation.devices, ...installation.supplies].find(({ name }) => name === part);
  const type = owner?.type === undefined ? undefined : installation.partTypes.get(owner.type);
  if (type === undefined) return installation;
  const name = `${type.name} of ${part}`;
  const own: PartType = { ...type, name, elements: type.elements.with(index, element) };
  const settle = <P extends { readonly name: string; readonly type?: string }>(one: P): P =>
    one.name === part ? { ...one, type: name } : one;
  return {
    ...installation,
    partTypes: new Map([...installation.partTypes, [name, own]]),
    devices: installation.devices.map(settle),
    supplies: installation.supplies.map(settle),
  };
}

/** The most volts an element sees while a contact is actuated, at high mains; undefined where there are no figures. */
export function mostVolts(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  element: ResolvedElement,
  matters: (closed: readonly string[]) => boolean,
): { readonly solved: Solved; readonly volts: number } | undefined {
  const solved = studyOf(analysis)
    .figures(circuit, 'high')
    .filter(({ state }) => matters(state.closed));
  const most = extreme(solved, (one) => voltsAcross(one, element), 'most');
  return most === undefined ? undefined : { solved: most.item, volts: most.figure };
}

/** The state in which an element has the least volts over everything the record allows, at high mains. */
export function leastVolts(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  element: ResolvedElement,
): { readonly solved: Solved; readonly volts: number } | undefined {
  const least = extreme(studyOf(analysis).figures(circuit, 'high'), (one) => voltsAcross(one, element), 'least');
  return least === undefined ? undefined : { solved: least.item, volts: least.figure };
}
