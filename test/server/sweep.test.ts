// Every service at every word of texts that are whole, half-written, odd or empty: no error, and no place outside the text.
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { FoldingRange, Position, Range, SelectionRange, SemanticTokens } from 'vscode-languageserver-types';
import { bundleServer, Client, scratchFolder } from './client.js';

const house = `wiring "Straße 12 — 🔔 вход"
profile europe
place flur "Flür 🏠" { photo "bilder/flur.jpg" }
place tür in flur { outdoor, temperature 50 degC }
device type gong "Own" {
    terminal trans "T", front, rear optional
    rating 8 V AC, 5 VA
    coil trans to front { as rated, power-factor 0.7, rings from 70 %, dc 6 ohm }
    contact trans to rear
}
supply trafo-größe : bell-transformer in flur { output 8 V AC, 8 VA, note "🔔 äöü" } // 🔔
device 𝒷ell : two-note-chime in flur
device glocke : gong in flur
device taster : push-button in tür
splice мост in flur
run leitung-é : 2 x 0.5 mm2 from flur to tür, 9 m { // 🔔 x
    white  trafo-größe.a  to  glocke.trans /* 🔔
    */
    brown  мост           to  glocke.front
}
run zwei : 2 x 0.5 mm2 from flur to tür, 9 m { white trafo-größe.b to taster.a, brown мост to taster.b }
jumper brücke : glocke.trans to glocke.rear
accept coil-shorted on glocke because "So."
readings "x" on 2026-11-20 {
    idle              trafo-größe.a, trafo-größe.b  9.9 V
    pressed taster    glocke                        silent
}
`;

const half = `wiring "half
place hall
supply tx : bell-transformer in
device chime :
run up : 18/2 from hall to
    red tx.a to
    white tx.
jumper tx.a to
readings on
accept
splice joint in hall { holds 2..3 of
box b { volume
ground to
device type t { terminal a, b
  coil a to b { as
move
replace supply
/* never closed
place attic
`;

const plan = `changes "house.wiring"
replace device taster with kamera : video-doorbell { ring none }
move zwei.white from taster.a to kamera.a
land leitung-é.white мост to
lift zwei.brown from taster.b
relocate glocke to flur
remove brücke
`;

const texts: Record<string, string> = {
  'house.wiring': house,
  'house-crlf.wiring': house.replaceAll('\n', '\r\n').replaceAll('    ', '\t'),
  'house-mark.wiring': `\ufeff${house}`,
  'half.wiring': half,
  'plan.wiring': plan,
  'empty.wiring': '',
  'blank.wiring': ' \n\t',
};

const scratch = scratchFolder();
let client: Client;

beforeAll(async () => {
  ({ client } = await Client.start(await bundleServer(scratch.folder), scratch.folder));
  client.settings = { inlayHints: { volts: true } };
  await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
  for (const [name, text] of Object.entries(texts)) client.write(name, text);
});

afterAll(async () => {
  await client.stop();
  scratch.remove();
});

const isBefore = (one: Position, other: Position): boolean =>
  one.line < other.line || (one.line === other.line && one.character <= other.character);
const isWithin = (inner: Range, outer: Range): boolean =>
  isBefore(outer.start, inner.start) && isBefore(inner.end, outer.end);

/** Every range in an answer, with the file that it is of. */
function* rangesIn(answer: unknown, uri: string): Generator<{ uri: string; range: Range }> {
  if (typeof answer !== 'object' || answer === null) return;
  const own = 'uri' in answer && typeof answer.uri === 'string' ? answer.uri : uri;
  if ('start' in answer && 'end' in answer) yield { uri: own, range: answer as Range };
  for (const [key, value] of Object.entries(answer)) {
    if (key === 'changes') for (const [of, edits] of Object.entries(value as object)) yield* rangesIn(edits, of);
    else if (key !== 'data') yield* rangesIn(value, own);
  }
}

it.each(Object.keys(texts))('%s', async (name) => {
  const uri = client.uriOf(name);
  const text = texts[name]!;
  const lines = text.split(/\r\n|\n/);
  const wrong: string[] = [];
  const ask = async <Answer>(method: string, params: object): Promise<Answer> => {
    const answer = await client.request<Answer>(method, { textDocument: { uri }, ...params });
    for (const { uri: of, range } of rangesIn(answer, uri)) {
      const written = of === uri ? lines : texts[of.split('/').at(-1)!]?.split(/\r\n|\n/);
      for (const { line, character } of written ? [range.start, range.end] : []) {
        if (line >= written!.length || character > written![line]!.length)
          wrong.push(`${method} ${JSON.stringify(params)}: ${JSON.stringify(range)} of ${of}`);
      }
      if (!isBefore(range.start, range.end)) wrong.push(`${method}: ${JSON.stringify(range)} runs backwards`);
    }
    return answer;
  };
  await client.open(uri, text);
  await client.until(uri, () => true);

  const whole: Range = {
    start: { line: 0, character: 0 },
    end: { line: lines.length - 1, character: lines.at(-1)!.length },
  };
  const options = { tabSize: 4, insertSpaces: true };
  for (const method of ['documentSymbol', 'documentLink', 'codeLens', 'inlayHint', 'codeAction', 'formatting'])
    await ask(`textDocument/${method}`, { range: whole, options, context: { diagnostics: [] } });

  const folds = await ask<FoldingRange[]>('textDocument/foldingRange', {});
  for (const one of folds) {
    if (one.startLine >= one.endLine || one.endLine >= lines.length) wrong.push(`a fold ${JSON.stringify(one)}`);
    const cuts = folds.filter(
      (other) => one.startLine < other.startLine && other.startLine <= one.endLine && other.endLine > one.endLine,
    );
    for (const other of cuts) wrong.push(`folds ${JSON.stringify([one, other])}`);
  }
  const { data } = await ask<SemanticTokens>('textDocument/semanticTokens/full', {});
  let [line, character] = [0, 0];
  for (let index = 0; index < data.length; index += 5) {
    character = data[index] === 0 ? character + data[index + 1]! : data[index + 1]!;
    line += data[index]!;
    const word = lines[line]?.slice(character, character + data[index + 2]!) ?? '';
    if (!/^[\p{L}\d][\p{L}\d-]*$/u.test(word)) wrong.push(`a token on ${JSON.stringify(word)}`);
  }

  const positions = lines.flatMap((each, number) => [
    ...[...each.matchAll(/(?<![\p{L}\d-])[\p{L}\d-]+|[{}",.]/gu)].map(({ index }) => ({
      line: number,
      character: index,
    })),
    { line: number, character: each.length },
  ]);
  // Of a long text, and of the same in another dress, some words do.
  const every = name.startsWith('house-') ? 5 : name === 'house.wiring' ? 2 : 1;
  const asked = positions.filter((_, index) => index % every === 0);
  await Promise.all(asked.map((position, index) => atPosition(position, index)));
  expect(wrong).toEqual([]);
  await client.close(uri);

  async function atPosition(position: Position, index: number): Promise<void> {
    for (const method of ['hover', 'definition', 'documentHighlight', 'signatureHelp', 'prepareCallHierarchy'])
      await ask(`textDocument/${method}`, { position });
    if (index % 7 === 0) await ask('textDocument/references', { position, context: { includeDeclaration: true } });
    for (const ch of ['\n', '}']) await ask('textDocument/onTypeFormatting', { position, ch, options });
    const range = { start: position, end: position };
    await ask('textDocument/rangeFormatting', { range, options });
    const items = await ask<{ textEdit: { range: Range } }[]>('textDocument/completion', { position });
    for (const { textEdit } of items) {
      const { start, end } = textEdit.range;
      if (start.line !== end.line || !isWithin(range, textEdit.range))
        wrong.push(`completion at ${JSON.stringify(position)} replaces ${JSON.stringify(textEdit.range)}`);
    }
    const [selection] = await ask<SelectionRange[]>('textDocument/selectionRange', { positions: [position] });
    for (let inner = range, step: SelectionRange | undefined = selection; step; step = step.parent) {
      if (!isWithin(inner, step.range)) wrong.push(`selection at ${JSON.stringify(position)}`);
      inner = step.range;
    }
  }
});
