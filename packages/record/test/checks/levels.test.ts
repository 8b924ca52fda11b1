import { describe, expect, test } from 'vitest';
import { applyLevels, checkSummaries, levelsFrom } from '../../src/index.js';

const finding = (code: string, severity: 'error' | 'warning' | 'info' | 'hint') => ({ code, severity, message: code });
const found = [finding('drop-high', 'info'), finding('supply-shorted', 'error'), finding('chime-hums', 'warning')];

describe('levels', () => {
  test('take a code out, raise one and lower one, in the order given', () => {
    const { findings, problems } = applyLevels(found, { 'drop-high': 'off', 'chime-hums': 'error' });
    expect(problems).toEqual([]);
    expect(findings.map(({ code, severity }) => `${severity} ${code}`)).toEqual([
      'error supply-shorted',
      'error chime-hums',
    ]);
  });

  test('nothing set changes nothing', () => {
    expect(applyLevels(found, undefined)).toEqual({ findings: found, problems: [] });
    expect(applyLevels(found, {}).findings).toBe(found);
  });

  const dangers = [...checkSummaries.values()].filter(({ forbidsAccepting }) => forbidsAccepting);
  test.each(dangers.map(({ code }) => code))('%s is a danger and keeps its level', (code) => {
    for (const level of ['off', 'hint', 'info', 'warning']) {
      const { findings, problems } = applyLevels([finding(code, 'error')], { [code]: level });
      expect(findings).toEqual([finding(code, 'error')]);
      expect(problems).toEqual([`\`${code}\` is a danger: its level stays at error.`]);
    }
    expect(levelsFrom({ [code]: 'error' }).problems).toEqual([]);
  });

  test('what keeps the record from being read can not be switched off', () => {
    const { findings, problems } = applyLevels([finding('syntax', 'error')], { syntax: 'off' });
    expect(findings).toHaveLength(1);
    expect(problems).toEqual(['`syntax` keeps part of the record from being read: its level stays at error.']);
  });

  test('an unknown code offers the nearest, an unknown level the known ones; the rest holds', () => {
    const { levels, problems } = levelsFrom({ 'drop-hihg': 'off', 'chime-hums': 'loud', 'drop-high': 'hint' });
    expect(problems[0]).toContain('Did you mean `drop-high`?');
    expect(problems[1]).toBe('`chime-hums` can be `error`, `warning`, `info`, `hint` or `off`, not `loud`.');
    expect([...levels]).toEqual([['drop-high', 'hint']]);
  });

  test.each([[[]], ['off'], [3]])('%j is no set of levels', (settings) => {
    expect(levelsFrom(settings).problems).toHaveLength(1);
  });
});
