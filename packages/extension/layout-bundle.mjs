/**
 * The layout library without the layout algorithms that no drawing uses, at two thirds of its size.
 *
 * It is compiled from Java: thousands of functions under names of their own, and classes as calls that say their number, their superclass and
 * their constructors, followed by their methods. A statement is kept when kept code mentions its name, a class when kept code mentions one of
 * its constructors or is built on it. Whatever is left out is mentioned nowhere, so nothing that runs can miss it.
 */

import { readFile } from 'node:fs/promises';
import { transform } from 'esbuild';

const algorithmChoice = /: (\w+)\(b, "force"\) \? [^;]*;/;

/** Of each kind of step that can be taken in several ways, the numbers of those that the drawing's options ask for. */
const usedWays = { 'node placer': [3], layerer: [0], 'cycle breaker': [0], 'crossing minimizer': [0] };

/** What an option is for, in sentences: nobody reads it in a worker. */
const description = /, "(?:[A-Z][^"\\\n]|'[a-z])(?:[^"\\\n]|\\.){38,}"\)/g;

/** Its code for a worker, minified. `path` is that of the library's own worker. */
export async function layoutScript(path) {
  const source = await readFile(path, 'utf8');
  const { code } = await transform(source, { legalComments: 'none' });
  if (!algorithmChoice.test(code)) throw new Error(`${path}: the choice of algorithms is not where it was`);
  const chosen = Object.entries(usedWays).reduce(
    (sofar, [kind, numbers]) => keepWays(path, sofar, kind, numbers),
    code.replace(algorithmChoice, ': 0;'),
  );
  const kept = keepMentioned(statementsOf(chosen.replace(description, ', "")')));
  const { code: small } = await transform(kept.join('\n'), { minify: true, target: 'es2022', legalComments: 'none' });
  return `/* elkjs (EPL-2.0), less the algorithms that are not used here; see NOTICES.txt. */\n${small}`;
}

/** A way that is left out says that it is not available, as the library says of an unknown one. */
function keepWays(path, code, kind, numbers) {
  const refusal = code.indexOf(`"No implementation is available for the ${kind} "`);
  const begin = code.lastIndexOf('\nfunction ', refusal);
  const ways = code.slice(begin, refusal);
  const kept = ways.replace(/ *case (\d+):\n *return new [^\n]*\n/g, (way, number) =>
    numbers.includes(Number(number)) ? way : '',
  );
  if (refusal < 0 || kept === ways) throw new Error(`${path}: the choice of a ${kind} is not where it was`);
  return code.slice(0, begin) + kept + code.slice(refusal);
}

/** The printer starts each statement at the margin and indents or closes what belongs to it. */
function statementsOf(code) {
  const statements = [];
  for (const line of code.split('\n')) {
    if (/^[\s})\]]/.test(line) || line === '') statements.push(`${statements.pop() ?? ''}\n${line}`);
    else statements.push(line);
  }
  return statements;
}

function keepMentioned(statements) {
  const makesClass = mostCalled(statements);
  const isClass = new RegExp(
    `^${makesClass.replaceAll('$', '\\$')}\\((\\w+), (\\w+), [^]*?(?:\\}|[\\w$]+)((?:, [\\w$]+)*)\\);`,
  );
  const items = [];
  for (const text of statements) {
    if (/^_\./.test(text)) {
      items.at(-1).text += `\n${text}`;
      continue;
    }
    const made = isClass.exec(text);
    const named = /^(?:function ([\w$]+)\(|var ([\w$]+)(?: =|;))/.exec(text);
    if (made) items.push({ text, number: made[1], base: made[2], names: made[3].split(', ').filter(Boolean) });
    else if (named && !/^var [^=;]*,/.test(text)) items.push({ text, names: [named[1] ?? named[2]] });
    else items.push({ text, root: true, names: [] });
  }
  const byName = new Map();
  const byNumber = new Map();
  for (const item of items) {
    for (const name of item.names) byName.set(name, [...(byName.get(name) ?? []), item]);
    if (item.number !== undefined) byNumber.set(item.number, [...(byNumber.get(item.number) ?? []), item]);
  }
  const live = new Set();
  const waiting = items.filter(({ root }) => root);
  for (let item = waiting.pop(); item; item = waiting.pop()) {
    if (live.has(item)) continue;
    live.add(item);
    for (const [word] of item.text.matchAll(/[\w$]+/g)) waiting.push(...(byName.get(word) ?? []));
    // A class can be made in several goes, each with constructors of its own.
    for (const number of [item.number, item.base]) waiting.push(...(byNumber.get(number) ?? []));
  }
  return items.filter((item) => live.has(item)).map(({ text }) => text);
}

/** Of all calls that are statements, the one that makes classes is by far the most frequent. */
function mostCalled(statements) {
  const counts = new Map();
  for (const text of statements) {
    const name = /^([\w$]+)\(\d+, \d+, /.exec(text)?.[1];
    if (name) counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  const [most] = [...counts].sort(([, one], [, other]) => other - one);
  if (!most || most[1] < 500) throw new Error('the layout library is not compiled as it was');
  return most[0];
}
