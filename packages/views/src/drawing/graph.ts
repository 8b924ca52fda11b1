/** The drawing as a graph for the layout: parts with terminals at fixed places, splices, and places around them. */

import type { ElkExtendedEdge, ElkNode } from 'elkjs';
import type { Analysis } from '@ohmstead/record';
import { colourLetters } from '../papers/colour-letters.js';
import { placeWords, tradeWords } from '../papers/trade-words.js';
import { placeOfPart } from '../papers/landings.js';
import { type PartFigure, textWidth } from './geometry.js';
import { smallSize } from './part-figure.js';
import type { Flow } from './flow.js';
import type { Wire } from './scope.js';

const wireSize = 10.5;
const labelHeight = 16;
const placeSize = 12;

const spliceWidth = 12;

const rootOptions = {
  'elk.algorithm': 'layered',
  'elk.direction': 'RIGHT',
  'elk.edgeRouting': 'ORTHOGONAL',
  'elk.hierarchyHandling': 'INCLUDE_CHILDREN',
  'elk.json.edgeCoords': 'ROOT',
  'elk.json.shapeCoords': 'ROOT',
  'elk.randomSeed': '1',
  // The record's order decides where the layout has a choice, so that a small edit moves little.
  'elk.layered.considerModelOrder.strategy': 'NODES_AND_EDGES',
  'elk.layered.thoroughness': '12',
  'elk.layered.edgeLabels.centerLabelPlacementStrategy': 'SPACE_EFFICIENT_LAYER',
  'elk.spacing.nodeNode': '34',
  'elk.spacing.edgeEdge': '16',
  'elk.spacing.edgeNode': '18',
  'elk.spacing.edgeLabel': '4',
  'elk.spacing.labelNode': '4',
  'elk.layered.spacing.nodeNodeBetweenLayers': '26',
  'elk.layered.spacing.edgeNodeBetweenLayers': '14',
  'elk.layered.spacing.edgeEdgeBetweenLayers': '12',
  'elk.padding': '[top=12,left=8,bottom=12,right=8]',
};

export function graphOf(
  analysis: Analysis,
  figures: ReadonlyMap<string, PartFigure>,
  splices: readonly string[],
  wires: readonly Wire[],
  flow: Flow,
): ElkNode {
  const nodes = new Map<string, ElkNode>();
  for (const [name, figure] of figures) nodes.set(name, partNode(name, figure));
  for (const name of splices) nodes.set(name, spliceNode(name, wires));
  const edges = wires.map((wire) => edgeOf(analysis, wire, flow));
  return { id: 'drawing', layoutOptions: rootOptions, children: inPlaces(analysis, nodes), edges };
}

function partNode(name: string, { width, height, rails }: PartFigure): ElkNode {
  return {
    id: `part:${name}`,
    width,
    height,
    layoutOptions: { 'elk.portConstraints': 'FIXED_POS' },
    ports: rails.map(({ terminal, side, y }) => ({
      id: `port:${name}.${terminal}`,
      x: side === 'WEST' ? 0 : width,
      y,
      width: 0,
      height: 0,
      layoutOptions: { 'elk.port.side': side },
    })),
  };
}

/** Tall enough for what meets in it. */
function spliceNode(name: string, wires: readonly Wire[]): ElkNode {
  const count = wires.filter(({ from, to }) => from === name || to === name).length;
  return {
    id: `splice:${name}`,
    width: spliceWidth,
    height: Math.max(24, count * 12),
    labels: [{ text: name, width: textWidth(name, smallSize) + 4, height: labelHeight }],
    layoutOptions: { 'elk.nodeLabels.placement': 'OUTSIDE V_BOTTOM H_CENTER', 'elk.portConstraints': 'FREE' },
  };
}

function edgeOf(analysis: Analysis, wire: Wire, flow: Flow): ElkExtendedEdge {
  const [source, target] = flow.isTurned(wire) ? [wire.to, wire.from] : [wire.from, wire.to];
  const text = wireWords(analysis, wire);
  return {
    id: `wire:${wire.id}`,
    sources: [shapeOf(source)],
    targets: [shapeOf(target)],
    labels: [
      {
        id: `label:${wire.id}`,
        text,
        width: textWidth(text, wireSize) + 8,
        height: labelHeight,
        layoutOptions: { 'elk.edgeLabels.inline': 'true', 'elk.edgeLabels.placement': 'CENTER' },
      },
    ],
  };
}

const shapeOf = (point: string): string => (point.includes('.') ? `port:${point}` : `splice:${point}`);

/** "RD tx-to-hall"; the colour's name where it has no letters. */
export function wireWords({ installation, jumpers, parts }: Analysis, { kind, of, colour }: Wire): string {
  const words = tradeWords(installation.profile);
  if (kind === 'conductor' && colour !== undefined) return `${colourLetters(colour) ?? colour} ${of}`;
  if (kind === 'lead') return parts.has(of) ? `${of}, own lead` : of;
  const jumper = jumpers.get(of);
  return jumper?.named === true ? of : words[jumper?.kind ?? 'jumper'];
}

/** Parts inside the regions of their places; places within places are regions within regions. */
function inPlaces(analysis: Analysis, nodes: ReadonlyMap<string, ElkNode>): ElkNode[] {
  const { places } = analysis.installation;
  const contents = new Map<string | undefined, ElkNode[]>();
  const known = new Map(places.map((place) => [place.name, place]));
  const put = (place: string | undefined, node: ElkNode) => contents.set(place, [...(contents.get(place) ?? []), node]);
  for (const [name, node] of nodes) {
    const place = placeOfPart(analysis, name);
    put(place !== undefined && known.has(place) ? place : undefined, node);
  }
  const built = new Set<string>();
  const region = (name: string): ElkNode | undefined => {
    if (built.has(name)) return undefined;
    built.add(name);
    const inner = places.filter(({ within }) => within === name).flatMap((place) => region(place.name) ?? []);
    const children = [...(contents.get(name) ?? []), ...inner];
    if (children.length === 0) return undefined;
    const words = placeWords(analysis, name);
    return {
      id: `place:${name}`,
      children,
      labels: [{ text: words, width: textWidth(words, placeSize) + 8, height: 18 }],
      layoutOptions: {
        'elk.padding': '[top=14,left=16,bottom=20,right=16]',
        'elk.nodeLabels.placement': 'INSIDE V_TOP H_LEFT',
        'elk.nodeSize.constraints': 'NODE_LABELS MINIMUM_SIZE',
      },
    };
  };
  const outermost = places.filter(({ within }) => within === undefined || !known.has(within));
  const regions = [...outermost, ...places].flatMap(({ name }) => region(name) ?? []);
  return [...regions, ...(contents.get(undefined) ?? [])];
}
