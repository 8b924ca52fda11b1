// The highlighting grammar: every expression compiles, and the words of a record get the scopes that are meant for them.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly include?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
  readonly patterns?: readonly Rule[];
}

const path = new URL('../syntaxes/ohmstead.tmLanguage.json', import.meta.url);
const grammar: { patterns: Rule[]; repository: Record<string, Rule> } = JSON.parse(readFileSync(path, 'utf8'));

/** The expressions keep to what both Oniguruma and JavaScript read; only the flag in front is spelled differently. */
function compiled(source: string): RegExp {
  const insensitive = source.startsWith('(?i)');
  return new RegExp(insensitive ? source.slice(4) : source, insensitive ? 'dgimu' : 'dgmu');
}

function flat(rules: readonly Rule[]): Rule[] {
  return rules.flatMap((rule) => {
    if (rule.include !== undefined) {
      const target = grammar.repository[rule.include.slice(1)];
      expect(target, rule.include).toBeDefined();
      return flat([target!]);
    }
    return rule.patterns === undefined ? [rule] : flat(rule.patterns);
  });
}

const rules = flat(grammar.patterns);

/** What an editor does with one line: at each place the earliest match wins, of those the first rule. */
function scopes(line: string): [string, string][] {
  const found: [string, string][] = [];
  let at = 0;
  while (at < line.length) {
    let best: { rule: Rule; match: RegExpExecArray } | undefined;
    for (const rule of rules) {
      const expression = compiled(rule.match ?? `${rule.begin}.*?(?:${rule.end}|$)`);
      expression.lastIndex = at;
      const match = expression.exec(line);
      if (match && match[0] !== '' && (best === undefined || match.index < best.match.index)) best = { rule, match };
    }
    if (best === undefined) break;
    const { rule, match } = best;
    if (rule.name !== undefined) found.push([match[0], rule.name]);
    for (const [group, { name }] of Object.entries(rule.captures ?? {})) {
      const text = match[Number(group)];
      if (text !== undefined) found.push([text, name]);
    }
    at = match.index + match[0].length;
  }
  return found.map(([text, name]) => [text, name.replace(/\.ohmstead$/, '')]);
}

const punctuation = ([, name]: [string, string]) => !name.startsWith('punctuation');

test('every expression compiles and matches something', () => {
  expect(rules.length).toBeGreaterThan(12);
  for (const rule of rules) {
    for (const source of [rule.match, rule.begin, rule.end]) {
      if (source === undefined) continue;
      expect(compiled(source).test(''), source).toBe(false);
    }
    expect(rule.match !== undefined || (rule.begin !== undefined && rule.end !== undefined)).toBe(true);
  }
});

describe('scopes', () => {
  test.each<[string, [string, string][]]>([
    [
      'supply bell-tx : bell-transformer in basement {',
      [
        ['supply', 'keyword.other.statement'],
        ['bell-tx', 'entity.name.part'],
        ['bell-transformer', 'support.type'],
        ['in', 'keyword.operator.word'],
      ],
    ],
    [
      '    output 16 V AC, 10 VA',
      [
        ['output', 'support.function.fact'],
        ['16', 'constant.numeric'],
        ['V AC', 'keyword.other.unit'],
        ['10', 'constant.numeric'],
        ['VA', 'keyword.other.unit'],
      ],
    ],
    [
      '    red    bell-tx.a    to  hall-chime.trans',
      [
        ['red', 'constant.other.colour'],
        ['bell-tx', 'variable.other.part'],
        ['a', 'variable.other.property.terminal'],
        ['to', 'keyword.operator.word'],
        ['hall-chime', 'variable.other.part'],
        ['trans', 'variable.other.property.terminal'],
      ],
    ],
    [
      '    white  joint  to  hall-chime.front',
      [
        ['white', 'constant.other.colour'],
        ['to', 'keyword.operator.word'],
        ['hall-chime', 'variable.other.part'],
        ['front', 'variable.other.property.terminal'],
      ],
    ],
    [
      '    green spare',
      [
        ['green', 'constant.other.colour'],
        ['spare', 'constant.language'],
      ],
    ],
    [
      'run tx-to-porch : 18/2 from basement to porch, 21 ft 6 in {',
      [
        ['run', 'keyword.other.statement'],
        ['tx-to-porch', 'entity.name.part'],
        ['18/2', 'constant.numeric'],
        ['from', 'keyword.operator.word'],
        ['to', 'keyword.operator.word'],
        ['21', 'constant.numeric'],
        ['ft', 'keyword.other.unit'],
        ['6', 'constant.numeric'],
        ['in', 'keyword.other.unit'],
      ],
    ],
    [
      'device type two-note-chime "Two-note" { // words',
      [
        ['device', 'keyword.other.statement'],
        ['type', 'keyword.other.statement'],
        ['two-note-chime', 'entity.name.type'],
        ['"Two-note"', 'string.quoted.double'],
        ['// words', 'comment.line.double-slash'],
      ],
    ],
    [
      '    coil trans to front { as rated, power-factor 0.7, rings from 70 % }',
      [
        ['coil', 'storage.type.element'],
        ['to', 'keyword.operator.word'],
        ['as', 'support.function.fact'],
        ['rated', 'constant.language'],
        ['power-factor', 'support.function.fact'],
        ['0.7', 'constant.numeric'],
        ['rings', 'support.function.fact'],
        ['from', 'keyword.operator.word'],
        ['70', 'constant.numeric'],
        ['%', 'keyword.other.unit'],
      ],
    ],
    [
      'accept supply-headroom on bell-tx because "spring"',
      [
        ['accept', 'keyword.other.statement'],
        ['supply-headroom', 'support.constant.code'],
        ['on', 'keyword.operator.word'],
        ['because', 'keyword.operator.word'],
        ['"spring"', 'string.quoted.double'],
      ],
    ],
    [
      'wiring "open',
      [
        ['wiring', 'keyword.other.statement'],
        ['"open', 'invalid.illegal.unclosed-string'],
      ],
    ],
  ])('%s', (line, expected) => {
    expect(scopes(line).filter(punctuation)).toEqual(expected);
  });

  test('a name is never cut at its hyphens or taken for a word of the notation', () => {
    const texts = scopes('device front-to-rear-run : push-button').map(([text]) => text);
    expect(texts).toEqual(['device', 'front-to-rear-run', ':', 'push-button']);
  });
});
