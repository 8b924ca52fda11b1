/** `bside panel-to-box, 1 in`: read as two conductors, of which nothing that is said would help. */

import type { Conductor, Run } from '../generated/ast.js';
import { editDistance } from '../reading/nearest.js';
import type { LoweringContext } from './context.js';
import { stretchOf } from './sites.js';

/** A run's facts without those that a misspelt `beside` was read as; each such word is reported. */
export function factsAsMeant(context: LoweringContext, node: Run): Run['facts'] {
  const meant = node.facts.filter((fact): fact is Conductor => isMisspelt(context, fact));
  if (meant.length === 0) return node.facts;
  const { text } = context.document;
  const left = new Set<Run['facts'][number]>(meant);
  for (const fact of meant) {
    const facts = { what: 'unknown-fact', found: fact.colour, of: 'a run', nearest: ['beside'] } as const;
    context.report('syntax', facts, context.site(fact, 'colour'), { instead: ['beside'] });
    const { end } = stretchOf(context.site(fact));
    const next = node.facts[node.facts.indexOf(fact) + 1];
    // The distance after the comma.
    if (next?.$type === 'Conductor' && /^\s*,[^\n\r]*$/.test(text.slice(end, stretchOf(context.site(next)).offset)))
      left.add(next);
  }
  return node.facts.filter((fact) => !left.has(fact));
}

function isMisspelt(context: LoweringContext, fact: Run['facts'][number]): boolean {
  if (fact.$type !== 'Conductor' || fact.to !== undefined || fact.spare) return false;
  const beside = fact.from?.end?.part;
  if (beside === undefined || context.names.find('part', beside)?.kind !== 'run') return false;
  return editDistance(fact.colour.toLowerCase(), 'beside', 2) <= 2;
}
