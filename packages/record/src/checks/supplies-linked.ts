import { type Analysis, pointOf, type ResolvedElement } from '../analysis-types.js';
import { isLineSideElement } from '../judging/line-side-element.js';
import { studyOf } from '../judging/study.js';
import { type Edge, Nets } from '../judging/topology.js';
import { quote } from '../judging/words.js';
import type { Jumper } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const suppliesLinked = defineCheck({
  code: 'supplies-linked',
  severity: 'warning',
  title: 'A jumper on one part ties two supplies together',
  reach: 'cluster',
  run(analysis, report) {
    for (const jumper of analysis.jumpers.values()) {
      const { name, from, to } = jumper;
      if (from.part === undefined || from.part !== to.part) continue;
      const [one, other] = tiedBy(analysis, jumper) ?? [];
      if (one === undefined || other === undefined) continue;
      const ends = [from, to].map((end) => quote(pointOf(end)));
      report({
        path: at.jumper(name),
        message: `The jumper from ${ends[0]} to ${ends[1]} ties ${quote(one.part)} and ${quote(other.part)} together at this one point and carries nothing: it belongs where one supply feeds both terminals. Take it out: once their other sides meet as well, one supply drives current through the other.`,
        related: [one, other].map(({ part }) => ({
          path: at.part(part),
          message: `${quote(part)} feeds one end of it`,
        })),
        parts: [from.part, one.part, other.part, name],
        mends: () => [
          {
            title: `Take out the jumper from ${ends[0]} to ${ends[1]}`,
            changes: [{ kind: 'remove-jumper', jumper: name }],
          },
        ],
      });
    }
  },
});

/** A winding on either side of a jumper, where that alone joins their supplies; undefined where they have more in common, or nothing. */
function tiedBy(analysis: Analysis, { name, from, to }: Jumper): readonly ResolvedElement[] | undefined {
  const study = studyOf(analysis);
  const component = study.topology.componentOf(pointOf(from));
  const edges = study.topology.edgesIn(component);
  const windings = edges.flatMap((edge) => windingOf(analysis, edge));
  if (new Set(windings.map(({ part }) => part)).size < 2) return undefined;
  const apart = new Nets(edges.filter(({ jumper }) => jumper !== name));
  if (apart.same(pointOf(from), pointOf(to))) return undefined;
  const sides = [from, to].map((end) => windings.find(({ a }) => apart.same(a, pointOf(end))));
  const [one, other] = sides;
  if (one === undefined || other === undefined || one.part === other.part) return undefined;
  // DC supplies that work together have their minus in common.
  const { bare } = study.joined(component, []);
  if (one.system === 'DC' && other.system === 'DC' && bare.same(one.b, other.b)) return undefined;
  return [one, other];
}

function windingOf(analysis: Analysis, { element }: Edge): readonly ResolvedElement[] {
  return element?.element.kind === 'winding' && !isLineSideElement(analysis, element) ? [element] : [];
}
