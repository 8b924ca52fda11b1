/** A record laid out as a drawing. The layout library is loaded when the first drawing is asked for. */

import type { ELK, ElkNode } from 'elkjs';
import type { Analysis } from '@ohmstead/record';
import { severityWords, worstFirst } from '../words.js';
import type { Box, Column, DrawnPart, DrawnPlace, DrawnSplice, DrawnWire, Drawing, Mark, Point } from './geometry.js';
import { type DrawOptions, type PlacedFinding, type Sketch, sketchOf } from './sketch.js';

let loaded: Promise<ELK> | undefined;

async function layoutLibrary(): Promise<ELK> {
  const { default: library } = await import('elkjs/lib/elk.bundled.js');
  return new library.default();
}

/** Works on what was concluded from a record; asynchronous because of the layout alone. */
export async function layOut(analysis: Analysis, options: DrawOptions = {}): Promise<Drawing> {
  const sketch = sketchOf(analysis, options);
  loaded ??= layoutLibrary();
  return drawingOf(sketch, await (await loaded).layout(sketch.graph));
}

/** A sketch with the places that the layout found for its graph. */
export function drawingOf(sketch: Sketch, laid: ElkNode): Drawing {
  const figures = new Map(sketch.figures.map((figure) => [figure.name, figure]));
  const places: DrawnPlace[] = [];
  const parts: DrawnPart[] = [];
  const splices: DrawnSplice[] = [];
  const visit = (node: ElkNode): void => {
    const box = boxOf(node);
    const [kind = '', name = ''] = splitOnce(node.id);
    const figure = figures.get(name);
    if (kind === 'place') places.push({ ...box, words: node.labels?.[0]?.text ?? name });
    else if (kind === 'part' && figure !== undefined) parts.push({ ...box, figure });
    else if (kind === 'splice') {
      const label = boxOf(node.labels?.[0] ?? {});
      splices.push({ ...box, name, label });
    }
    for (const child of node.children ?? []) visit(child);
  };
  for (const child of laid.children ?? []) visit(child);
  const edges = new Map((laid.edges ?? []).map((edge) => [edge.id, edge]));
  const wires = sketch.wires.flatMap(({ id, kind, of, colour, words, live }): DrawnWire[] => {
    const edge = edges.get(`wire:${id}`);
    const section = edge?.sections?.[0];
    if (edge === undefined || section === undefined) return [];
    const points = [section.startPoint, ...(section.bendPoints ?? []), section.endPoint].map(
      ({ x, y }): Point => ({ x, y }),
    );
    const label = { ...boxOf(edge.labels?.[0] ?? {}), text: words };
    return [{ id, kind, of, colour, points, label, live }];
  });
  const { title, caption } = sketch;
  const drawn = { width: laid.width ?? 0, height: laid.height ?? 0, title, caption, places, parts, splices, wires };
  const { marks, notes } = marked(drawn, sketch.findings);
  // Where one circuit is drawn, what is found elsewhere is not said beside it.
  const isSaid = (number: number) => sketch.drawn === '' || marks.some((mark) => mark.number === number);
  return { ...drawn, marks, notes: notes.filter(({ number }) => isSaid(number)) };
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
