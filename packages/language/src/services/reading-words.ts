/** A line of a `readings` block as three cells: how the house stood, where, what was shown. Told from words alone, so that half a line has its cells too. */

const SIGNS: ReadonlySet<string> = new Set(['silent', 'rings', 'hums', 'dark', 'lit']);

export function isSign(word: string): boolean {
  return SIGNS.has(word.toLowerCase().replace(/,$/, ''));
}

/** How many words say how the house stood: `idle`, `off`, `off, pressed a`, `pressed a, b`, `pressed a, bridged b`, `bridged a`; 0 where none does. */
export function stateLength(words: readonly string[]): number {
  const wordAt = (index: number): string | undefined => words[index]?.toLowerCase().replace(/,$/, '');
  const first = wordAt(0);
  if (first === 'idle') return 1;
  if (first === 'off') return wordAt(1) === 'pressed' ? afterContacts(words, 2) : 1;
  if (first !== 'pressed' && first !== 'bridged') return 0;
  const length = afterContacts(words, 1);
  return first === 'pressed' && wordAt(length) === 'bridged' ? afterContacts(words, length + 1) : length;
}

/** Where a list of contacts ends that starts at `from`; a comma also stands before `bridged`. */
function afterContacts(words: readonly string[], from: number): number {
  let length = from + 1;
  while (words[length - 1]?.endsWith(',') === true && words[length]?.toLowerCase() !== 'bridged') length++;
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
