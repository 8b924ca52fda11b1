/** Chime coils that stand between a supply and a load, and the jumper that takes them out of the way. */

import { type Analysis, type CircuitAnalysis, pointOf, type ResolvedElement } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import type { End } from '../model.js';
import { isRingContact } from './state-words.js';
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

/** A coil that rings something: bypassed, its load is fed. Past any other coil a conductor is on the wrong terminal. */
export function isChimeCoil(coil: ResolvedElement): boolean {
  return coil.ringsFromVolts !== undefined;
}

interface KitLead {
  readonly part: string;
  readonly terminal: string;
  /** Where it belongs. */
  readonly on: End;
}

/** The lead of a bypass kit that has its other one on the coil and this one nowhere, or on the same side. */
function misplacedKit(analysis: Analysis, circuit: CircuitAnalysis, coil: ResolvedElement): KitLead | undefined {
  const study = studyOf(analysis);
  const { bare } = study.joined(study.componentOf(circuit), []);
  const ends = [coil.element.a, coil.element.b].map((terminal): End => ({ part: coil.part, terminal }));
  for (const { element, part, a, b } of analysis.elements.values()) {
    if (element.kind !== 'bypass') continue;
    for (const [here, there, terminal] of [
      [a, b, element.b],
      [b, a, element.a],
    ] as const) {
      const near = ends.find((end) => bare.same(pointOf(end), here));
      const far = ends.find((end) => end !== near);
      const isLanded = analysis.landedOn(there).length > 0 || hasLead(analysis, part, terminal);
      const isLoose = bare.same(here, there) || !isLanded;
      if (near !== undefined && far !== undefined && isLoose) return { part, terminal, on: far };
    }
  }
  return undefined;
}

function hasLead({ installation }: Analysis, part: string, terminal: string): boolean {
  return installation.devices.some(
    ({ name, lands }) => name === part && lands.some((landing) => landing.terminal === terminal),
  );
}

/** What would feed the load past the coil, in words. */
export function bypassWords(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  load: ResolvedElement,
): string {
  const kit = misplacedKit(analysis, circuit, coil);
  if (kit !== undefined)
    return `Land ${quote(`${kit.part}.${kit.terminal}`)} on ${quote(pointOf(kit.on))}: as it is, ${quote(kit.part)} bypasses nothing.`;
  const ends = `from ${quote(`${coil.part}.${coil.element.a}`)} to ${quote(`${coil.part}.${coil.element.b}`)}`;
  return ringsIt(analysis, load)
    ? `A bypass kit ${ends} feeds it and lets the chime ring.`
    : `A jumper ${ends} bypasses it, and silences this chime.`;
}

/** Whether the load's own part rings a chime by a contact: a jumper past the coil would then short the supply. */
function ringsIt(analysis: Analysis, { part }: ResolvedElement): boolean {
  const own = analysis.parts.get(part)?.elements ?? [];
  return own.some((element) => element.present && isRingContact(analysis, element));
}

/** "`hall-chime`, and an electronic chime …" where one alone is in the way, with what helps. */
export function pastElectronicChime(analysis: Analysis, through: readonly ResolvedElement[]): string | undefined {
  const [chime] = through;
  if (chime === undefined || through.some(({ part }) => part !== chime.part)) return undefined;
  if (chime.element.kind !== 'load' || analysis.parts.get(chime.part)?.role !== 'chime') return undefined;
  return `${quote(chime.part)}, and an electronic chime lets next to nothing through at rest. It takes the bypass that one of the two makers names, from ${quote(chime.a)} to ${quote(chime.b)}.`;
}

export function bypassFor(analysis: Analysis, circuit: CircuitAnalysis, coil: ResolvedElement): readonly Fix[] {
  const { part, element } = coil;
  const kit = misplacedKit(analysis, circuit, coil);
  if (kit !== undefined) {
    const title = `Land ${quote(`${kit.part}.${kit.terminal}`)} on ${quote(pointOf(kit.on))}`;
    return [{ title, changes: [{ kind: 'set-lead', ...kit }] }];
  }
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
