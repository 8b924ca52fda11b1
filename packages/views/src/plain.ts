/** Text that somebody else chose, made fit to be printed anywhere. */

/** Without what can steer a terminal, stop a parser or turn the direction of what follows; tabs and line ends stay. */
export function harmless(text: string): string {
  return text.replace(/[^\P{Cc}\n\t]|[\u202a-\u202e\u2066-\u2069]/gu, '');
}

/** On one line. */
export function oneLine(text: string): string {
  return harmless(text).replace(/\s+/g, ' ').trim();
}

const figure = /(\d) (V|A|mA|VA|W|%|ohm|kohm|ft|in|m|AWG|mm2)(?![\p{L}\d])/gu;

/** Lines of at most `width` characters, broken at spaces but never between a figure and its unit, within a word only where it is longer than a line. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of oneLine(text).replace(figure, '$1\u00a0$2').split(' ')) {
    for (const piece of pieces(word, width)) {
      if (line === '') line = piece;
      else if (line.length + 1 + piece.length <= width) line += ` ${piece}`;
      else {
        lines.push(line);
        line = piece;
      }
    }
  }
  return [...lines, line].map((each) => each.replaceAll('\u00a0', ' '));
}

function pieces(word: string, width: number): string[] {
  const cut: string[] = [];
  for (let at = 0; at === 0 || at < word.length; at += width) cut.push(word.slice(at, at + width));
  return cut;
}
