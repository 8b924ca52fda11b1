/** The same records as data for servers of general notations, with a schema that checks as much of them as a schema can. */

import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Parts of a house in the row, in as many lines as the notation's own. */
function house(number) {
  const name = (word) => `h${number}-${word}`;
  const run = (id, from, to, metres, lands) => ({
    name: name(id),
    cable: '18/2',
    from: name(from),
    to: name(to),
    metres,
    lands,
  });
  return {
    places: [name('cellar'), name('hall'), name('porch')],
    supply: { name: name('tx'), type: 'bell-transformer', volts: 16, va: 10, noLoad: 19.8 },
    chime: { name: name('chime'), type: 'two-note-chime', volts: 16, va: 10 },
    button: { name: name('cam'), type: 'push-button' },
    runs: [
      run('up', 'cellar', 'hall', 8 + (number % 7), { red: `${name('tx')}.a ${name('chime')}.trans` }),
      run('out', 'cellar', 'porch', 12 + (number % 7), { red: `${name('tx')}.b ${name('cam')}.a` }),
    ],
  };
}

const string = { type: 'string' };
const number = { type: 'number' };
const object = (properties, required = Object.keys(properties)) => ({
  type: 'object',
  properties,
  required,
  additionalProperties: false,
});
const part = object({ name: string, type: string, volts: number, va: number, noLoad: number }, ['name', 'type']);
const land = { type: 'object', additionalProperties: { type: 'string', pattern: '^\\S+ \\S+$' } };

const content = object({
  houses: {
    type: 'array',
    items: object({
      places: { type: 'array', items: string },
      supply: part,
      chime: part,
      button: part,
      runs: {
        type: 'array',
        items: object({ name: string, cable: string, from: string, to: string, metres: number, lands: land }),
      },
    }),
  },
});

const file = join(tmpdir(), 'ohmstead-bench-schema.json');
writeFileSync(file, JSON.stringify(content));
export const schema = { content, file: pathToFileURL(file).href };

const LINES_OF_A_HOUSE = 46;
const houses = (lines) =>
  Array.from({ length: Math.max(1, Math.round(lines / LINES_OF_A_HOUSE)) }, (_, at) => house(at + 1));

export function jsonOf(lines) {
  return `${JSON.stringify({ houses: houses(lines) }, null, 2)}\n`;
}

export function yamlOf(lines) {
  const out = ['houses:'];
  const emit = (value, indent) => {
    for (const [key, inner] of Object.entries(value)) {
      if (Array.isArray(inner)) {
        out.push(`${indent}${key}:`);
        for (const item of inner) {
          if (typeof item !== 'object') out.push(`${indent}  - ${item}`);
          else {
            const at = out.length;
            emit(item, `${indent}    `);
            out[at] = out[at].replace(`${indent}    `, `${indent}  - `);
          }
        }
      } else if (typeof inner === 'object') {
        out.push(`${indent}${key}:`);
        emit(inner, `${indent}  `);
      } else out.push(`${indent}${key}: ${JSON.stringify(inner)}`);
    }
  };
  for (const each of houses(lines * 1.25)) {
    const at = out.length;
    emit(each, '    ');
    out[at] = out[at].replace('    ', '  - ');
  }
  return `${out.join('\n')}\n`;
}

const typing = (mark) => (text, count) => {
  const at = text.indexOf(mark, Math.floor(text.length / 2)) + mark.length;
  return Array.from({ length: count }, (_, index) =>
    index % 2 === 0 ? { start: at, end: at, text: '5' } : { start: at, end: at + 1, text: '' },
  );
};

export const jsonKeystrokes = typing('"metres": ');
export const yamlKeystrokes = typing('metres: ');
