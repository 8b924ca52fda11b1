import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import { type Ask, type Asked, askedOf } from '../judging/labels.js';
import { outputChange, outputWords, plainSupply, standardSizes } from '../judging/mends.js';
import { studyOf } from '../judging/study.js';
import { voltAmperes } from '../judging/units.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyTooSmall = defineCheck({
  code: 'supply-too-small',
  severity: 'error',
  title: 'The labels ask for a bigger supply',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const asked = askedOf(analysis, circuit);
      if (asked === undefined || asked.total <= asked.rated * (1 + 1e-9)) continue;
      const { part } = asked.winding;
      report({
        path: at.fact(part, 'output'),
        message: sentence(analysis, asked),
        related: asked.asks.map((ask) => ({ path: placeOf(ask), message: `${quote(ask.part)} ${askWords(ask)}` })),
        parts: [part, ...asked.asks.map((ask) => ask.part)],
        mends: () => mendsOf(analysis, circuit, asked),
      });
    }
  },
});

function placeOf({ part, by }: Ask): string {
  return by === 'draw' ? at.part(part) : at.fact(part, by);
}

function askWords({ voltAmperes: asked, by }: Ask): string {
  return by === 'draw' ? `draws ${voltAmperes(asked)}` : `asks for a supply of ${voltAmperes(asked)} or more`;
}

function sentence(analysis: Analysis, { winding, rated, asks, total }: Asked): string {
  const each =
    asks.length === 1
      ? `${quote(asks[0]!.part)} ${askWords(asks[0]!)}`
      : `the labels of ${listOf(asks.map((ask) => `${quote(ask.part)} (${voltAmperes(ask.voltAmperes)})`))} ask for ${voltAmperes(total)} together`;
  const { ratedVolts = 0 } = winding;
  const size = standardSizes(analysis, winding, ratedVolts).find((one) => one >= total - 1e-9);
  const mend =
    size === undefined
      ? 'split the loads between two supplies'
      : `the next standard size is ${winding.system === 'DC' ? outputWords(winding, ratedVolts, size) : voltAmperes(size)}`;
  return `${quote(winding.part)} gives ${voltAmperes(rated)}, and ${each}: ${mend}. More VA than needed does no harm; the mains side is for a licensed electrician.`;
}

function mendsOf(analysis: Analysis, circuit: CircuitAnalysis, { winding, total }: Asked) {
  const { ratedVolts } = winding;
  if (ratedVolts === undefined || plainSupply(analysis, circuit) === undefined) return [];
  const sizes = standardSizes(analysis, winding, ratedVolts).filter((size) => size >= total - 1e-9);
  return sizes.slice(0, 3).map((size) => ({
    title: `Change ${quote(winding.part)} to ${outputWords(winding, ratedVolts, size)}`,
    changes: [outputChange(winding, ratedVolts, size)],
  }));
}
