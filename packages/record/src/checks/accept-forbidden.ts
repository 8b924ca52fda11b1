import { accepts } from '../judging/raise.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const acceptForbidden = defineCheck({
  code: 'accept-forbidden',
  severity: 'error',
  title: 'An acceptance of a danger',
  forbidsAccepting: true,
  runAfter(analysis, found, report) {
    analysis.installation.accepts.forEach((accept, index) => {
      const danger = found.find(({ check, parts }) => check.forbidsAccepting && accepts(accept, check.code, parts));
      if (danger === undefined) return;
      report({
        path: at.accept(index),
        message: `${quote(accept.code)} is a danger and can't be accepted: it has to be mended.`,
        related: [{ path: danger.path, message: danger.check.title }],
        parts: accept.on === undefined ? [] : [accept.on],
      });
    });
  },
});
