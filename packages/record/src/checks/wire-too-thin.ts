import type { Analysis } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { thickerThan } from '../judging/mends.js';
import { areaOf, sizeWords } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import type { ConductorSize } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const wireTooThin = defineCheck({
  code: 'wire-too-thin',
  severity: 'error',
  title: "A conductor is thinner than a part's terminals take",
  reach: 'cluster',
  run(analysis, report) {
    for (const { run, cable } of analysis.runs.values()) {
      const size = cable?.size;
      if (size === undefined) continue;
      const asking = partsAskingForMore(analysis, run.name, size);
      const thickest = asking.reduce<ConductorSize | undefined>(
        (most, { thinnest }) => (most === undefined || areaOf(thinnest) > areaOf(most) ? thinnest : most),
        undefined,
      );
      if (thickest === undefined) continue;
      const names = asking.map(({ part }) => part);
      const takes = names.length === 1 ? 'takes' : 'take';
      report({
        path: at.cable(run.name),
        message: `${quote(run.name)} is ${sizeWords(size)}; ${quotedList(names)} ${takes} ${sizeWords(thickest)} or thicker: a thinner conductor comes loose under the screw.`,
        related: names.map((name) => ({
          path: at.fact(name, 'accepts'),
          message: `${sizeWords(thickest)} or thicker`,
        })),
        parts: [run.name, ...names],
        mends: (): readonly Fix[] =>
          thickerThan(size)
            .filter((other) => areaOf(other) >= areaOf(thickest) * 0.999)
            .slice(0, 1)
            .map((other) => ({
              title: `Put ${sizeWords(other)} in ${quote(run.name)}`,
              changes: [{ kind: 'set-cable', run: run.name, size: other }],
            })),
      });
    }
  },
});

function partsAskingForMore(analysis: Analysis, run: string, size: ConductorSize) {
  const asking = new Map<string, ConductorSize>();
  for (const { from, to } of analysis.runs.get(run)?.conductors ?? []) {
    for (const end of [from, to]) {
      const thinnest = end === undefined ? undefined : analysis.parts.get(end.part)?.facts.accepts?.thinnest;
      if (end !== undefined && thinnest !== undefined && areaOf(size) < areaOf(thinnest) * 0.999) {
        asking.set(end.part, thinnest);
      }
    }
  }
  return [...asking].map(([part, thinnest]) => ({ part, thinnest }));
}
