/** A record laid out as a drawing. The layout library is loaded when the first drawing is asked for. */

import type { ELK, ElkNode } from 'elkjs';
import type { Analysis } from '@ohmstead/record';
import { placeWords } from '../papers/trade-words.js';
import type { ShownFinding } from '../budget-view.js';
import { severityWords, stateLabel, worstFirst } from '../words.js';
import type {
  Box,
  Column,
  DrawnPart,
  DrawnPlace,
  DrawnSplice,
  DrawnWire,
  Drawing,
  Mark,
  PartFigure,
  Point,
} from './geometry.js';
import { flowOf, ownerOf } from './flow.js';
import { graphOf, wireWords } from './graph.js';
import { type Choice, type Moment, momentOf } from './moment.js';
import { type Bridge, partFigure } from './part-figure.js';
import { scopeOf, type Wire, wiresOf } from './scope.js';

/** A finding, and the parts that it is about. */
export type PlacedFinding = ShownFinding & { readonly parts: readonly string[] };

export interface DrawOptions extends Partial<Choice> {
  /** A part's, run's or splice's name: its circuit alone is drawn. */
  readonly circuitOf?: string;
  readonly findings?: readonly PlacedFinding[];
}

let loaded: Promise<ELK> | undefined;

async function layoutLibrary(): Promise<ELK> {
  const { default: library } = await import('elkjs/lib/elk.bundled.js');
  return new library.default();
}

/** Works on what was concluded from a record; asynchronous because of the layout alone. */
export async function layOut(analysis: Analysis, options: DrawOptions = {}): Promise<Drawing> {
  const choice: Choice = { closed: [...(options.closed ?? [])].sort(), loads: options.loads ?? 'idle' };
  const moment = momentOf(analysis, choice);
  const scope = scopeOf(analysis, options.circuitOf);
  const { installation, parts } = analysis;
  const all = wiresOf(analysis, scope);
  const wires = all.filter((wire) => ownerOf(wire.from) !== ownerOf(wire.to));
  const bridges = all.filter((wire) => !wires.includes(wire));
  const flow = flowOf(analysis, wires);
  const figures = new Map<string, PartFigure>();
  for (const { name } of [...installation.supplies, ...installation.devices]) {
    const part = parts.get(name);
    if (part !== undefined && scope.hasPart(name))
      figures.set(
        name,
        partFigure(
          part,
          moment,
          flow,
          bridges.filter(({ from }) => ownerOf(from) === name).map((wire) => bridgeOf(analysis, wire)),
        ),
      );
  }
  const splices = [...new Set(installation.splices.map(({ name }) => name))].filter((name) => scope.hasPart(name));
  loaded ??= layoutLibrary();
  const laid = await (await loaded).layout(graphOf(analysis, figures, splices, wires, flow));
  return drawingOf(analysis, laid, {
    figures,
    wires,
    moment,
    choice,
    scope: scope.words,
    findings: options.findings ?? [],
  });
}

function bridgeOf(analysis: Analysis, wire: Wire): Bridge {
  const terminal = (point: string) => point.slice(point.indexOf('.') + 1);
  return { id: wire.id, words: wireWords(analysis, wire), a: terminal(wire.from), b: terminal(wire.to) };
}

interface Subject {
  readonly figures: ReadonlyMap<string, PartFigure>;
  readonly wires: readonly Wire[];
  readonly moment: Moment;
  readonly choice: Choice;
  readonly scope: string;
  readonly findings: readonly PlacedFinding[];
}

function drawingOf(analysis: Analysis, laid: ElkNode, subject: Subject): Drawing {
  const places: DrawnPlace[] = [];
  const parts: DrawnPart[] = [];
  const splices: DrawnSplice[] = [];
  const visit = (node: ElkNode): void => {
    const box = boxOf(node);
    const [kind = '', name = ''] = splitOnce(node.id);
    const figure = subject.figures.get(name);
    if (kind === 'place') places.push({ ...box, words: placeWords(analysis, name) });
    else if (kind === 'part' && figure !== undefined) parts.push({ ...box, figure });
    else if (kind === 'splice') {
      const label = boxOf(node.labels?.[0] ?? {});
      splices.push({ ...box, name, label });
    }
    for (const child of node.children ?? []) visit(child);
  };
  for (const child of laid.children ?? []) visit(child);
  const edges = new Map((laid.edges ?? []).map((edge) => [edge.id, edge]));
  const wires = subject.wires.flatMap((wire): DrawnWire[] => {
    const edge = edges.get(`wire:${wire.id}`);
    const section = edge?.sections?.[0];
    if (edge === undefined || section === undefined) return [];
    const points = [section.startPoint, ...(section.bendPoints ?? []), section.endPoint].map(
      ({ x, y }): Point => ({ x, y }),
    );
    const label = { ...boxOf(edge.labels?.[0] ?? {}), text: wireWords(analysis, wire) };
    const { id, kind, of, colour } = wire;
    return [{ id, kind, of, colour, points, label, live: subject.moment.isLive(id) }];
  });
  const title = analysis.installation.title?.trim() || 'Untitled record';
  const caption = [stateLabel(subject.choice), subject.scope].filter((words) => words !== '').join('; ');
  const drawn = { width: laid.width ?? 0, height: laid.height ?? 0, title, caption, places, parts, splices, wires };
  return { ...drawn, ...marked(drawn, subject.findings) };
}

function boxOf({
  x = 0,
  y = 0,
  width = 0,
  height = 0,
}: {
  x?: number;
  y?: number;
  width?: number;
  height?: number;
}): Box {
  return { x, y, width, height };
}

function splitOnce(id: string): [string, string] {
  const at = id.indexOf(':');
  return [id.slice(0, at), id.slice(at + 1)];
}

/** Numbered in the order of gravity; each mark stands at the first thing drawn that the finding is about. */
function marked(
  { parts, splices, wires }: Pick<Drawing, 'parts' | 'splices' | 'wires'>,
  findings: readonly PlacedFinding[],
): Pick<Drawing, 'marks' | 'notes'> {
  const taken = new Map<string, number>();
  const placeOf = (name: string): Point | undefined => {
    const holds = ({ id, bridge }: Column) => bridge && id === `jumper/${name}`;
    const part = parts.find(({ figure }) => figure.name === name || figure.columns.some(holds));
    const wire = wires.find(({ of }) => of === name);
    const splice = splices.find((each) => each.name === name);
    const nth = taken.get(name) ?? 0;
    taken.set(name, nth + 1);
    // Side by side along the part's lower edge, clear of name, rails and symbols.
    if (part !== undefined) return { x: part.x + part.width - 10 - 18 * nth, y: part.y + part.height };
    if (wire !== undefined)
      return { x: wire.label.x + wire.label.width + 8 + 18 * nth, y: wire.label.y + wire.label.height / 2 };
    return splice === undefined ? undefined : { x: splice.x + splice.width + 8 + 18 * nth, y: splice.y };
  };
  const notes = worstFirst(findings.filter(({ accepted }) => !accepted)).map(
    ({ severity, message, parts: about }, index) => ({
      number: index + 1,
      severity,
      words: `${severityWords[severity]}: ${message.replaceAll('`', '')}`,
      about,
    }),
  );
  const marks = notes.flatMap(({ number, severity, about }): Mark[] => {
    for (const name of about) {
      const at = placeOf(name);
      if (at !== undefined) return [{ number, severity, at }];
    }
    return [];
  });
  return { marks, notes: notes.map(({ number, severity, words }) => ({ number, severity, words })) };
}
