/** What is to be drawn, before it is laid out: plain data, so that the layout can be done elsewhere than the conclusions. */

import type { ElkNode } from 'elkjs';
import type { Analysis } from '@ohmstead/record';
import type { ShownFinding } from '../budget-view.js';
import { listed, stateLabel } from '../words.js';
import { flowOf, ownerOf } from './flow.js';
import type { PartFigure } from './geometry.js';
import { graphOf, wireWords } from './graph.js';
import { type Choice, choiceOf, type Moment, momentOf } from './moment.js';
import { type Bridge, partFigure } from './part-figure.js';
import { type CircuitChoice, scopeOf, type Scope, type Wire, wiresOf } from './scope.js';

/** A finding, and the parts that it is about. */
export type PlacedFinding = ShownFinding & { readonly parts: readonly string[] };

export interface DrawOptions extends Partial<Choice> {
  /** A part's, run's or splice's name: its circuit alone is drawn. */
  readonly circuitOf?: string;
  /** The part whose circuit is drawn where there are too many for one sheet. */
  readonly near?: string;
  readonly findings?: readonly PlacedFinding[];
}

export interface SketchedWire extends Wire {
  /** "RD tx-to-hall". */
  readonly words: string;
  readonly live: boolean;
}

export interface Sketch {
  readonly title: string;
  /** "porch-button held", and which circuit where not all are drawn. */
  readonly caption: string;
  /** For the layout library. */
  readonly graph: ElkNode;
  readonly figures: readonly PartFigure[];
  /** Conductors, jumpers and leads between parts and splices. */
  readonly wires: readonly SketchedWire[];
  readonly findings: readonly PlacedFinding[];
  readonly circuits: readonly CircuitChoice[];
  readonly drawn: string;
  readonly fits: boolean;
}

/** A choice by circuit goes over one for all. */
export function sketchOf(analysis: Analysis, options: DrawOptions = {}): Sketch {
  const choice: Choice =
    options.shown === undefined
      ? { closed: [...(options.closed ?? [])].sort(), loads: options.loads ?? 'idle' }
      : choiceOf(analysis, options.shown);
  const moment = momentOf(analysis, choice);
  const scope = scopeOf(analysis, options.circuitOf, options.near);
  const all = wiresOf(analysis, scope);
  const wires = all.filter((wire) => ownerOf(wire.from) !== ownerOf(wire.to));
  const bridges = all.filter((wire) => !wires.includes(wire));
  const flow = flowOf(analysis, wires);
  const figures = new Map(partsOf(analysis, scope).map((part) => [part.name, figureOf(part)] as const));
  const splices = [...new Set(analysis.installation.splices.map(({ name }) => name))].filter((name) =>
    scope.hasPart(name),
  );
  const { circuits, drawn, fits } = scope;
  return {
    title: analysis.installation.title?.trim() || 'Untitled record',
    caption: [captionOf(scope, choice), missingWords(analysis, scope, moment), scope.words]
      .filter((words) => words !== '')
      .join('; '),
    graph: graphOf(analysis, figures, splices, wires, flow),
    figures: [...figures.values()],
    wires: wires.map((wire) => sketched(analysis, moment, wire)),
    findings: options.findings ?? [],
    circuits,
    drawn,
    fits,
  };

  function figureOf(part: ReturnType<typeof partsOf>[number]): PartFigure {
    const own = bridges.filter(({ from }) => ownerOf(from) === part.name).map((wire) => bridgeOf(analysis, wire));
    return partFigure(part, moment, flow, own);
  }
}

/** Contacts of circuits that are not drawn are not spoken of. */
function captionOf({ circuit }: Scope, { closed, loads }: Choice): string {
  const contacts = circuit?.circuit.contacts;
  return stateLabel({
    closed: contacts === undefined ? closed : closed.filter((name) => contacts.includes(name)),
    loads: circuit === undefined || circuit.circuit.hasPeak ? loads : 'idle',
  });
}

/** A drawing without figures would pass for one in which nothing carries current. */
function missingWords({ circuits }: Analysis, { circuit }: Scope, { withoutFigures }: Moment): string {
  const missing = withoutFigures.filter((each) => circuit === undefined || each === circuit);
  if (missing.length === 0) return '';
  const fed = circuits.filter(({ supplies }) => supplies.length > 0);
  if (circuit !== undefined || missing.length === fed.length) return 'no figures can be given in this state';
  return `no figures can be given in this state for ${listed(missing.flatMap(({ supplies }) => supplies))}`;
}

function partsOf({ installation, parts }: Analysis, scope: Scope) {
  const names = [...installation.supplies, ...installation.devices].map(({ name }) => name);
  return [...new Set(names)].flatMap((name) => {
    const part = scope.hasPart(name) ? parts.get(name) : undefined;
    return part === undefined ? [] : [part];
  });
}

function sketched(analysis: Analysis, moment: Moment, wire: Wire): SketchedWire {
  return { ...wire, words: wireWords(analysis, wire), live: moment.isLive(wire.id) };
}

function bridgeOf(analysis: Analysis, wire: Wire): Bridge {
  const terminal = (point: string) => point.slice(point.indexOf('.') + 1);
  return { id: wire.id, words: wireWords(analysis, wire), a: terminal(wire.from), b: terminal(wire.to) };
}
