/** Read inside the page: the editor's DOM is the only place that says what a user really sees. */

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

export interface Spot {
  /** What is meant. */
  text: string;
  /** Words of the line that it stands on, where the text alone is on several. */
  line?: string | undefined;
}

export type Severity = 'error' | 'warning' | 'info' | 'hint';

export interface Squiggle {
  severity: Severity;
  /** What stands above it. */
  text: string;
  /** The whole line that it is on. */
  line: string;
}

/** Where a text stands in the window, as a whole word; null where no rendered line has it. */
export function boxOf(editor: Element, spot: Spot): Box | null {
  const word = /[\p{L}\p{N}_-]/u;
  const lines = [...editor.querySelectorAll('.view-lines > .view-line')].sort(
    (a, b) => a.getBoundingClientRect().top - b.getBoundingClientRect().top,
  );
  for (const line of lines) {
    const content = (line.textContent ?? '').replaceAll('\u00a0', ' ');
    if (spot.line !== undefined && !content.includes(spot.line)) {
      continue;
    }
    for (let at = content.indexOf(spot.text); at >= 0; at = content.indexOf(spot.text, at + 1)) {
      const end = at + spot.text.length;
      const whole = (edge: string, beyond: string | undefined) =>
        !word.test(edge) || beyond === undefined || !word.test(beyond);
      if (whole(content.charAt(at), content[at - 1]) && whole(content.charAt(end - 1), content[end])) {
        return box(line, at, end);
      }
    }
  }
  return null;

  function box(line: Element, start: number, end: number): Box {
    const range = document.createRange();
    const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    let passed = 0;
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const length = node.textContent?.length ?? 0;
      if (start >= passed && start < passed + length) {
        range.setStart(node, start - passed);
      }
      if (end > passed && end <= passed + length) {
        range.setEnd(node, end - passed);
      }
      passed += length;
    }
    const { x, y, width, height } = range.getBoundingClientRect();
    return { x, y, width, height };
  }
}

/** Every squiggle that the editor draws at present, top to bottom, with the text that stands over it. */
export function squigglesOf(editor: Element): Squiggle[] {
  const severities: Severity[] = ['error', 'warning', 'info', 'hint'];
  const found: (Squiggle & { top: number; left: number })[] = [];
  for (const severity of severities) {
    for (const mark of editor.querySelectorAll(`.view-overlays .squiggly-${severity}`)) {
      const area = mark.getBoundingClientRect();
      const middle = area.top + area.height / 2;
      for (const line of editor.querySelectorAll('.view-lines > .view-line')) {
        const { top, bottom } = line.getBoundingClientRect();
        if (top <= middle && middle < bottom) {
          const content = (line.textContent ?? '').replaceAll('\u00a0', ' ');
          found.push({ severity, text: under(line, area), line: content, top: area.top, left: area.left });
        }
      }
    }
  }
  found.sort((a, b) => a.top - b.top || a.left - b.left);
  return found.map(({ severity, text, line }) => ({ severity, text, line }));

  function under(line: Element, area: DOMRect): string {
    const range = document.createRange();
    const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
    let text = '';
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const content = node.textContent ?? '';
      for (let index = 0; index < content.length; index++) {
        range.setStart(node, index);
        range.setEnd(node, index + 1);
        const { left, width } = range.getBoundingClientRect();
        const middle = left + width / 2;
        if (middle > area.left && middle < area.right) {
          text += content[index];
        }
      }
    }
    return text.replaceAll('\u00a0', ' ');
  }
}

/** The text of the line that the caret stands on; empty while there is no caret. */
export function lineAtCaret(editor: Element): string {
  const caret = editor.querySelector('.cursors-layer .cursor')?.getBoundingClientRect();
  const middle = caret ? caret.top + caret.height / 2 : Number.NaN;
  for (const line of editor.querySelectorAll('.view-lines > .view-line')) {
    const { top, bottom } = line.getBoundingClientRect();
    if (top <= middle && middle < bottom) {
      return (line.textContent ?? '').replaceAll('\u00a0', ' ');
    }
  }
  return '';
}
