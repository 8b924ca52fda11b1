import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import { type Ask, type Asked, askedOf } from '../judging/labels.js';
import { carriesItsLoads, outputChange, outputWords, plainSupply, standardSizes } from '../judging/mends.js';
import { studyOf } from '../judging/study.js';
import { voltAmperes } from '../judging/units.js';
import { whatIf } from '../judging/what-if.js';
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
        message: () => sentence(analysis, circuit, asked),
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

function sentence(analysis: Analysis, circuit: CircuitAnalysis, asked: Asked): string {
  const { winding, rated, asks, total } = asked;
  const each =
    asks.length === 1
      ? `${quote(asks[0]!.part)} ${askWords(asks[0]!)}`
      : `the labels of ${listOf(asks.map((ask) => `${quote(ask.part)} (${voltAmperes(ask.voltAmperes)})`))} ask for ${voltAmperes(total)} together`;
  const { ratedVolts = 0 } = winding;
  const { sizes, next } = sizesFor(analysis, circuit, asked);
  const [size] = sizes;
  const carrying = size === next ? '' : ' that carries what is drawn';
  const mend =
    size === undefined
      ? 'split the loads between two supplies'
      : `the next standard size${carrying} is ${winding.system === 'DC' ? outputWords(winding, ratedVolts, size) : voltAmperes(size)}`;
  return `${quote(winding.part)} gives ${voltAmperes(rated)}, and ${each}: ${mend}. More VA than needed does no harm; the mains side is for a licensed electrician.`;
}

/** Standard sizes of no less than the labels ask for, from the first on that carries what is drawn where one does; and the next one of all. */
function sizesFor(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  { winding, total }: Asked,
): { readonly sizes: readonly number[]; readonly next: number | undefined } {
  const { ratedVolts = 0 } = winding;
  const sizes = standardSizes(analysis, winding, ratedVolts).filter((size) => size >= total - 1e-9);
  const isPlain = plainSupply(analysis, circuit) !== undefined;
  const carries = (size: number): boolean =>
    carriesItsLoads(whatIf(analysis, [winding.part], [outputChange(winding, ratedVolts, size)]), winding);
  const first = isPlain ? sizes.findIndex(carries) : 0;
  return { sizes: sizes.slice(Math.max(first, 0)), next: sizes[0] };
}

function mendsOf(analysis: Analysis, circuit: CircuitAnalysis, asked: Asked) {
  const { winding } = asked;
  const { ratedVolts } = winding;
  if (ratedVolts === undefined || plainSupply(analysis, circuit) === undefined) return [];
  return sizesFor(analysis, circuit, asked)
    .sizes.slice(0, 3)
    .map((size) => ({
      title: `Change ${quote(winding.part)} to ${outputWords(winding, ratedVolts, size)}`,
      changes: [outputChange(winding, ratedVolts, size)],
    }));
}
