import { accepts } from '../judging/raise.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const acceptUnused = defineCheck({
  code: 'accept-unused',
  severity: 'warning',
  title: 'An acceptance of something that is not found',
  runAfter(analysis, found, report) {
    analysis.installation.accepts.forEach((accept, index) => {
      if (found.some(({ check, parts }) => accepts(accept, check.code, parts))) return;
      if (isHeldBack(accept.on)) return;
      const where = accept.on === undefined ? '' : ` on ${quote(accept.on)}`;
      report({
        path: at.accept(index),
        message: `There is no ${quote(accept.code)}${where} to accept any more: take the line out.`,
        parts: accept.on === undefined ? [] : [accept.on],
      });
    });

    /** While a statement can't be read, what it would raise is not known. */
    function isHeldBack(on: string | undefined): boolean {
      if (analysis.circuits.every(({ held }) => !held) && analysis.installation.broken.size === 0) return false;
      return (
        on === undefined || analysis.circuitsOfPart(on).some(({ held }) => held) || analysis.installation.broken.has(on)
      );
    }
  },
});
