/** One mistake, one finding: a wrong name is told where it is first met, with the other places beside it. */

import type { readerChecks } from '@ohmstead/record';
import type { FactsOf, ReaderCode, ReaderFinding } from './context.js';

type TerminalFacts = FactsOf<'unknown-terminal'>;

interface WrongTerminals {
  readonly facts: TerminalFacts;
  readonly findings: Map<string, ReaderFinding>;
}

export class Mistakes {
  readonly #findings: ReaderFinding[] = [];
  readonly #places = new Map<string, number>();
  readonly #wrongTerminals = new Map<string, WrongTerminals>();
  /** Parts of which some terminal was named rightly. */
  readonly #rightlyNamed: string[] = [];

  add<Code extends ReaderCode>(code: Code, facts: FactsOf<Code>, finding: ReaderFinding): void {
    const key = keyOf(code, facts as Record<string, unknown>, finding);
    const place = key === undefined ? undefined : this.#places.get(key);
    if (place !== undefined) {
      this.#findings[place] = together(this.#findings[place]!, finding);
      return;
    }
    if (key !== undefined) this.#places.set(key, this.#findings.length);
    this.#findings.push(finding);
    if (code === 'unknown-terminal' && key !== undefined) this.#noteTerminal(facts as TerminalFacts, key);
  }

  noteRightTerminals(parts: readonly string[]): void {
    for (const part of parts) this.#rightlyNamed.push(part);
  }

  /** Where all terminals that the text names of a part are wrong, its type is: they are told together, by `sentence`. */
  settled(sentence: (typeof readerChecks)['unknown-terminal']['sentence']): readonly ReaderFinding[] {
    const dropped = new Set<ReaderFinding>();
    const instead = new Map<ReaderFinding, ReaderFinding>();
    const rightlyNamed = new Set(this.#wrongTerminals.size === 0 ? [] : this.#rightlyNamed);
    for (const [part, { facts, findings: byKey }] of this.#wrongTerminals) {
      if (byKey.size < 2 || rightlyNamed.has(part)) continue;
      const [first, ...others] = [...byKey.keys()].map((key) => this.#findings[this.#places.get(key)!]!);
      const terminals = [...byKey.keys()].map((key) => key.slice(key.lastIndexOf('.') + 1));
      const whole = others.reduce(together, first!);
      instead.set(first!, { ...whole, message: sentence({ ...facts, terminals }), fixes: [] });
      for (const other of others) dropped.add(other);
    }
    return this.#findings.filter((one) => !dropped.has(one)).map((one) => instead.get(one) ?? one);
  }

  #noteTerminal(facts: TerminalFacts, key: string): void {
    if (facts.terminal === undefined || facts.has.length === 0) return;
    const known = this.#wrongTerminals.get(facts.part) ?? { facts, findings: new Map<string, ReaderFinding>() };
    known.findings.set(key, this.#findings.at(-1)!);
    this.#wrongTerminals.set(facts.part, known);
  }
}

function keyOf(
  code: ReaderCode,
  { name, kind, part, terminal }: Record<string, unknown>,
  { uri, range }: ReaderFinding,
): string | undefined {
  if (code === 'duplicate-name') return `duplicate ${uri} ${range.start.line}`;
  // Parts, splices, runs and boxes share their names, whatever is asked for, and a box is a place.
  if (code === 'unknown-name')
    return `name ${/part|splice|button|run|box|place/.test(String(kind)) ? 'part' : kind} ${name}`;
  return code === 'unknown-terminal' && terminal !== undefined ? `terminal ${part}.${terminal}` : undefined;
}

/** The first with the place of the other beside it, and fixes that mend both. */
function together(first: ReaderFinding, other: ReaderFinding): ReaderFinding {
  const { uri, range } = other;
  const fixes = first.fixes.map((fix) => {
    const written = fix.edits[0]?.newText;
    const more = other.fixes.find(({ edits }) => edits[0]?.newText === written)?.edits ?? [];
    return more.length === 0
      ? fix
      : { title: fix.title.replace(/( everywhere)?$/, ' everywhere'), edits: [...fix.edits, ...more] };
  });
  return { ...first, fixes, related: [...first.related, { uri, range, message: 'It is here as well.' }] };
}
