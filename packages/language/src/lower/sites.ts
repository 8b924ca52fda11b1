/** Where something stands in a text: kept as a node and a property, turned into lines only when somebody asks. */

import { type AstNode, AstUtils, type CompositeCstNode, type CstNode, GrammarAST } from 'langium';
import type { TextRange, WiringDocument } from '../reading/document.js';

/** A property of a node, or the whole node where `property` is absent. */
export interface Site {
  readonly document: WiringDocument;
  readonly node: AstNode;
  readonly property?: string;
  readonly index?: number;
}

export interface Stretch {
  readonly offset: number;
  readonly end: number;
}

const features = new Map<GrammarAST.AbstractElement, string | undefined>();

function featureOf(element: GrammarAST.AbstractElement): string | undefined {
  if (features.has(element)) return features.get(element);
  const feature = AstUtils.getContainerOfType(element, GrammarAST.isAssignment)?.feature;
  features.set(element, feature);
  return feature;
}

function propertyNode(within: CompositeCstNode, property: string, left: { count: number }): CstNode | undefined {
  for (const child of within.content) {
    if (child.hidden || !child.grammarSource) continue;
    const feature = featureOf(child.grammarSource);
    if (feature === property) {
      if (left.count-- === 0) return child;
    } else if (feature === undefined && 'content' in child) {
      const found = propertyNode(child as CompositeCstNode, property, left);
      if (found) return found;
    }
  }
  return undefined;
}

/** Offsets of a site; of the whole node where the property was not written. */
export function stretchOf({ document, node, property, index }: Site): Stretch {
  const whole = node.$cstNode;
  if (!whole) return { offset: 0, end: 0 };
  const part = property && propertyNode(whole as CompositeCstNode, property, { count: index ?? 0 });
  const { offset, end } = part || whole;
  const base = document.offsetOf(node);
  return { offset: offset + base, end: end + base };
}

export function rangeOf(site: Site): TextRange {
  const { offset, end } = stretchOf(site);
  return site.document.rangeAt(offset, end);
}

/** The words as written. */
export function textOf(site: Site): string {
  const { offset, end } = stretchOf(site);
  return site.document.text.slice(offset, end);
}
