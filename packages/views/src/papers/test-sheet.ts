/** The test sheet: each point, what to expect there, and room to write what was found. */

import { MAINS } from '@ohmstead/circuit';
import type { Analysis } from '@ohmstead/record';
import { formatNumber } from '@ohmstead/circuit';
import { type Block, type Cell, type Paper, type Table, tick, write } from './paper.js';
import { type TestRow, testRows } from './test-rows.js';

const sections: Readonly<Record<TestRow['section'], string>> = {
  supply: 'Supply',
  rest: 'At rest, nothing pressed',
  button: 'Each button or switch, or a doorbell ringing',
  doorbell: 'What is fed all the time',
};

const order = ['supply', 'rest', 'button', 'doorbell'] as const;
const head = ['When', 'Where', 'Expected', 'Read', 'Pass', 'Initials'];
const room: readonly Cell[] = [write, tick, write];

export function testPaper(analysis: Analysis): Paper {
  const rows = testRows(analysis);
  const blocks = order.flatMap((section): Block[] => {
    const here = rows.filter((row) => row.section === section);
    if (here.length === 0) return [];
    const cells = here.map(({ when, where, expected }, index): Cell[] => [
      here[index - 1]?.when === when ? '' : when,
      where,
      expected,
      ...room,
    ]);
    return [
      { kind: 'heading', text: sections[section] },
      { kind: 'table', head, rows: cells, widths: [22, 24, 24, 12, 7, 10] },
    ];
  });
  const table: Table = {
    kind: 'table',
    head: ['Section', ...head],
    rows: rows.map(({ section, when, where, expected }) => [sections[section], when, where, expected, ...room]),
  };
  return { name: 'test-sheet', title: 'Test sheet', blocks: [...before(analysis), ...blocks, ...after(rows)], table };
}

function before({ installation }: Analysis): Block[] {
  const mains = Object.values(MAINS).find(({ name }) => name === installation.profile) ?? MAINS['north-america'];
  const volts = (factor: number) => formatNumber(mains.mainsVolts * factor, 0);
  return [
    {
      kind: 'facts',
      rows: [
        ['Meter', [write]],
        ['Its last check', [write]],
        ['Tester proved on a known live source', ['before', tick, 'after', tick]],
        [`Mains volts, expected ${volts(1 - mains.below)} to ${volts(1 + mains.above)} V`, [write]],
      ],
    },
    {
      kind: 'words',
      text: 'Volts are RMS, AC unless the supply is DC. A band runs from low mains and warm wire to high mains and cold wire; the meter may add its own error.',
    },
  ];
}

function after(rows: readonly TestRow[]): Block[] {
  const leaning = rows.some(({ expected }) => expected.endsWith('*'));
  return [
    ...(rows.length === 0 ? [{ kind: 'words' as const, text: 'No supply feeds anything in the record yet.' }] : []),
    ...(leaning
      ? [
          {
            kind: 'words' as const,
            text: '* Leans on something assumed (listed at the head): a reading outside may mean that the assumption is wrong.',
          },
        ]
      : []),
    { kind: 'facts', rows: [['Customer shown how it works, and where to switch it off', [tick, 'signed', write]]] },
  ];
}
