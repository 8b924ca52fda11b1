/** The load budget: what each supply gives, each device gets and each run loses, in every state. */

import type { Analysis, CircuitAnalysis, ResolvedElement, ResolvedPart, ResolvedRun } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import type { Budget, BudgetConductor, BudgetDevice, BudgetRun } from '../budget-types.js';
import type { Finding } from '../finding.js';
import { isBranchCircuit, lineSideOf } from '../line-side/line-side.js';
import { limits } from '../judging/limits.js';
import type { End } from '../model.js';
import { compare } from '../resolve/parts.js';
import { budgetBranches } from './branches.js';
import { needsPower } from '../judging/feeding.js';
import { extremesOf, figuresOfElement, terminalOf } from './elements.js';
import { magnitude, stateKey, withheldBecause } from './figures.js';
import { budgetSupply } from './supplies.js';

/** Everything in order of name, whatever the order of statements; findings as they are given. */
export function budgetOf(analysis: Analysis, findings: readonly Finding[]): Budget {
  const parts = [...analysis.parts.values()].sort((a, b) => compare(a.name, b.name));
  const runs = [...analysis.runs.values()].sort((a, b) => compare(a.run.name, b.run.name));
  const branches = budgetBranches(analysis);
  return {
    version: 1,
    title: analysis.installation.title ?? '',
    profile: analysis.installation.profile,
    circuits: analysis.circuits
      .filter((one) => one.supplies.length > 0 && one.devices.length > 0 && hasWinding(analysis, one))
      .map(({ supplies, devices, states }) => ({
        supplies,
        devices,
        states: states.map((state) => stateKey(analysis, state)),
      })),
    supplies: parts
      .filter((part) => part.kind === 'supply' && !isBranchCircuit(part))
      .map((part) => budgetSupply(analysis, part)),
    devices: parts.filter(({ kind }) => kind === 'device').map((part) => budgetDevice(analysis, part)),
    runs: runs.map((run) => budgetRun(analysis, run)),
    ...(branches.length > 0 ? { branches } : {}),
    assumptions: analysis.assumptions.map(({ part, words }) => `${part}: ${words}`),
    findings,
  };
}

/** Conductors of the line side are joined to one another and never solved. */
function hasWinding({ elements }: Analysis, { circuit }: CircuitAnalysis): boolean {
  return circuit.elements.some((id) => elements.get(id)?.element.kind === 'winding');
}

/** One device by itself, for who asks about no other. */
export function budgetDevice(analysis: Analysis, part: ResolvedPart): BudgetDevice {
  return {
    name: part.name,
    type: part.type?.name ?? null,
    place: part.place?.name ?? null,
    role: part.role ?? null,
    rating: part.rating ?? null,
    band: bandOf(part),
    needsVA: part.needs?.least ?? null,
    elements: part.elements.filter(isShown).map((element) => ({
      kind: element.element.kind,
      from: terminalOf(element, 'a'),
      to: terminalOf(element, 'b'),
      solved: figuresOfElement(analysis, element),
      ...extremesOf(analysis, element),
    })),
  };
}

/** Links, primaries and contacts that a setting takes out have no figures of their own. */
function isShown({ element, present }: ResolvedElement): boolean {
  return present && element.kind !== 'link' && element.kind !== 'primary';
}

/** A data sheet's limits are held exactly, a label with its allowances, a coil by what it rings from. Switches have no band, lit ones neither. */
function bandOf(part: ResolvedPart): { least: number | null; most: number | null } {
  const { limits: exact } = part.facts;
  if (exact !== undefined) return { least: exact.least, most: exact.most };
  const fed = needsPower(part);
  if (fed.length === 0) return { least: null, most: null };
  const ringing = fed.flatMap(({ ringsFromVolts }) => (ringsFromVolts === undefined ? [] : [ringsFromVolts]));
  const label = part.rating?.volts;
  const byLabel = label === undefined ? null : label.least * limits.tooLittleNominal;
  return {
    least: ringing.length > 0 ? Math.max(...ringing) : byLabel,
    most: label === undefined ? null : label.most * limits.tooMuch,
  };
}

/** One run by itself. */
export function budgetRun(analysis: Analysis, { run, conductors, lengthMetres }: ResolvedRun): BudgetRun {
  return {
    name: run.name,
    cable: run.cableWords,
    lengthMetres: lengthMetres ?? null,
    conductors: conductors.flatMap(({ id, colour, from, to, ohms }): BudgetConductor[] => {
      if (id === undefined || from === undefined || to === undefined) return [];
      const measured = ohms?.nominal ?? null;
      const solved = isOnLineSide(analysis, from) ? [] : figuresOfConductor(analysis, id, measured !== null);
      return [{ colour, from: pointOf(from), to: pointOf(to), ohms: measured, solved }];
    }),
  };
}

function isOnLineSide(analysis: Analysis, end: End): boolean {
  const lineSide = lineSideOf(analysis);
  return lineSide !== undefined && lineSide.marksOn(lineSide.netOf(pointOf(end))).length > 0;
}

/** A run without a length has amps but no drop. */
function figuresOfConductor(analysis: Analysis, id: string, isMeasured: boolean): BudgetConductor['solved'] {
  const circuit = analysis.circuitOfElement(id);
  if (circuit === undefined) return [];
  if (withheldBecause(circuit) !== undefined) {
    return circuit.states.map((state) => ({ ...stateKey(analysis, state), amps: null, dropVolts: null }));
  }
  return circuit.solved('nominal').map((solved) => {
    const { problem } = solved.solution;
    const figures = problem === undefined ? solved.solution.element(id) : undefined;
    return {
      ...stateKey(analysis, solved.state),
      amps: figures === undefined || figures.amps === null ? null : magnitude(figures.amps),
      dropVolts: figures === undefined || !isMeasured ? null : magnitude(figures.volts),
    };
  });
}
