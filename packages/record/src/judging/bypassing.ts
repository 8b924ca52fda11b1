/** Chime coils that stand between a supply and a load, and the jumper that takes them out of the way. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import type { End } from '../model.js';
import { studyOf } from './study.js';
import { isBare, Nets } from './topology.js';
import { quote } from './words.js';

/** The coil without which nothing but metal and bypass kits would stand between the load and the supply, with nothing pressed. */
export function seriesCoil(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
): ResolvedElement | undefined {
  return studyOf(analysis).once(`coil before ${load.id}`, () => findSeriesCoil(analysis, circuit, load));
}

function findSeriesCoil(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
): ResolvedElement | undefined {
  const study = studyOf(analysis);
  if (study.isFullyFed(load, []) || study.isBypassed(load, [])) return undefined;
  const edges = study.edgesOf(circuit);
  const metal = edges.filter((edge) => isBare(edge, new Set()) || edge.element?.element.kind === 'bypass');
  const windings = edges.filter(({ element }) => element?.element.kind === 'winding');
  if (new Nets([...metal, ...windings]).same(load.a, load.b)) return undefined;
  return study.elementsOf(circuit, 'coil').find((coil) => {
    const bare = new Nets([...metal, coil]);
    return !bare.same(load.a, load.b) && new Nets([...metal, coil, ...windings]).same(load.a, load.b);
  });
}

export function bypassFor(analysis: Analysis, coil: ResolvedElement): readonly Fix[] {
  const { part, element } = coil;
  const from: End = { part, terminal: element.a };
  const to: End = { part, terminal: element.b };
  const name = freeName(analysis, 'chime-bypass');
  const words = `${quote(`${part}.${element.a}`)} to ${quote(`${part}.${element.b}`)}`;
  const title = `Bypass the coil: a jumper from ${words}`;
  return [{ title, changes: [{ kind: 'add-jumper', name, from, to }] }];
}

/** The name, or the name with the first number that is free. */
export function freeName({ installation }: Analysis, wanted: string): string {
  const { supplies, devices, splices, runs, jumpers } = installation;
  const taken = new Set([...supplies, ...devices, ...splices, ...runs, ...jumpers].map(({ name }) => name));
  if (!taken.has(wanted)) return wanted;
  let number = 2;
  while (taken.has(`${wanted}-${number}`)) number++;
  return `${wanted}-${number}`;
}
