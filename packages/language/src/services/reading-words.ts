/** A line of a `readings` block as three cells: how the house stood, where, what was shown. Told from words alone, so that half a line has its cells too. */

const SIGNS: ReadonlySet<string> = new Set(['silent', 'rings', 'hums', 'dark', 'lit']);

export function isSign(word: string): boolean {
  return SIGNS.has(word.toLowerCase().replace(/,$/, ''));
}

/** How many words say how the house stood: `idle`, `off`, `pressed a, b`, `bridged a`; 0 where none does. */
export function stateLength(words: readonly string[]): number {
  const first = words[0]?.toLowerCase();
  if (first === 'idle' || first === 'off') return 1;
  if (first !== 'pressed' && first !== 'bridged') return 0;
  let length = 2;
  while (words[length - 1]?.endsWith(',') === true) length++;
  return Math.min(length, words.length);
}

/** Words are written together with a comma that follows them. Undefined where a line has not all three cells. */
export function readingCells(words: readonly string[]): readonly [string, string, string] | undefined {
  const length = stateLength(words);
  if (length === 0 || words.some((word) => /[{}]/.test(word))) return undefined;
  const rest = words.slice(length);
  const at = rest.findIndex((word, index) => index > 0 && isShown(word, rest, index));
  if (at < 0) return undefined;
  return [words.slice(0, length).join(' '), rest.slice(0, at).join(' '), rest.slice(at).join(' ')];
}

function isShown(word: string, rest: readonly string[], index: number): boolean {
  if (/^(about|ol,?)$/i.test(word) || /^[-\u2212]?\d/.test(word)) return true;
  return isSign(word) && index === 1 && !rest[0]!.endsWith(',');
}
