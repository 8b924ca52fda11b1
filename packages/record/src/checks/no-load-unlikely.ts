import { limits } from '../judging/limits.js';
import { labelVolts, voltAmperes } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const noLoadUnlikely = defineCheck({
  code: 'no-load-unlikely',
  severity: ['warning', 'error'],
  title: 'An open voltage that no healthy supply of that size shows',
  reach: 'cluster',
  run(analysis, report) {
    for (const part of analysis.parts.values()) {
      if (analysis.installation.broken.has(part.name)) continue;
      const windings = part.elements.filter(({ element, present }) => present && element.kind === 'winding');
      const [winding] = windings;
      if (winding === undefined || windings.length > 1 || part.facts.regulated === true) continue;
      const { ratedVolts, ratedVoltAmperes } = winding;
      if (ratedVolts === undefined || ratedVoltAmperes === undefined) continue;
      const small = ratedVoltAmperes <= limits.smallSupply;
      const least = ratedVolts * (small ? limits.noLoadLeastSmall : limits.noLoadLeastLarge);
      const most = ratedVolts * (small ? limits.noLoadMostSmall : limits.noLoadMostLarge);
      for (const [fact, open, words] of [
        ['measured-open', part.facts.measuredOpenVolts, 'was measured at'],
        ['no-load', part.facts.noLoadVolts, 'is stated with'],
      ] as const) {
        if (open === undefined || (open >= least - 1e-9 && open <= most + 1e-9)) continue;
        const why =
          open < least ? 'a tired winding, low mains or another transformer' : 'another tap or another transformer';
        report({
          path: at.fact(part.name, fact),
          severity: fact === 'no-load' && (open < ratedVolts / SLIP || open > ratedVolts * SLIP) ? 'error' : 'warning',
          message: `${quote(part.name)} ${words} ${labelVolts(open)} open; a healthy supply of ${labelVolts(ratedVolts)} ${voltAmperes(ratedVoltAmperes)} shows ${labelVolts(least)} to ${labelVolts(most)}: read again, and think of ${why}.`,
          parts: [part.name],
        });
      }
    }
  },
});

/** Beyond this many times the rated volts, either way, a stated figure is a slip of the pen: common practice, no source. */
const SLIP = 2;
