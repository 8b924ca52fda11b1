// The built command's papers and drawings, with the arguments that a person would give it.
import { describe, expect, test } from 'vitest';
import { ohmstead as run } from './ohmstead.js';

const root = new URL('../../../', import.meta.url).pathname;
const bell = 'examples/as-found-bell.wiring';

const ohmstead = (...args: string[]) => run(args, { cwd: root });

describe('sheets', () => {
  test('prints all papers, or the one that is asked for', async () => {
    const all = await ohmstead('sheets', bell, '--date', '2026-11-25', '--as', 'left');
    expect([all.status, all.err]).toEqual([0, '']);
    for (const title of [
      'Installation record',
      'Termination schedule',
      'Cut list',
      'Materials',
      'Test sheet',
      'Labels',
      'Cautions',
    ]) {
      expect(all.out).toContain(`\n## ${title}\n`);
    }
    expect(all.out).toContain('2026-11-25, as left');
    const one = await ohmstead('sheets', bell, '--only', 'cut-list');
    expect(one.out).toContain('## Cut list');
    expect(one.out).not.toContain('## Labels');
  });

  test('sets HTML for the sheet that is in the printer', async () => {
    expect((await ohmstead('sheets', bell, '--format', 'html')).out).toContain('size: letter portrait');
    expect((await ohmstead('sheets', bell, '--format', 'html', '--sheet', 'a4')).out).toContain('size: A4 portrait');
  });

  test('prints one table as CSV, and says which there are when none is named', async () => {
    const csv = await ohmstead('sheets', bell, '--format', 'csv', '--only', 'terminations');
    expect(csv.out.split('\r\n')[0]).toBe('Place,Part,Screw,What lands on it,Colour,IEC 60757,Its other end');
    const none = await ohmstead('sheets', bell, '--format', 'csv');
    expect([none.status, none.out]).toEqual([2, '']);
    expect(none.err).toContain('terminations, cut-list, materials, test-sheet, labels');
  });

  test('cuts with the allowance that is given', async () => {
    const cut = async (share: string) =>
      (await ohmstead('sheets', bell, '--format', 'csv', '--only', 'cut-list', '--allowance', share)).out;
    expect(await cut('0')).toContain('tx-to-porch,basement,porch,21 ft 6 in,23 ft 6 in,');
    expect(await cut('20 %')).toContain('tx-to-porch,basement,porch,21 ft 6 in,28 ft,');
    expect((await ohmstead('sheets', bell, '--allowance', 'much')).status).toBe(2);
  });
});

test('a plan, or a record with the one that stands, has a work order among its papers', async () => {
  const plan = await ohmstead('sheets', 'examples/plans/mill-row-doorbell.wiring', '--only', 'work-order');
  expect([plan.status, plan.err]).toEqual([0, '']);
  expect(plan.out).toContain('### Isolate, and prove it dead');
  expect(plan.out).toContain('### Readings to expect');
  expect(plan.out).toContain('### The way back');
  const two = await ohmstead('sheets', 'examples/doorbell-done-right.wiring', '--from', bell, '--only', 'work-order');
  expect(two.out).toContain('## Work order');
  const none = await ohmstead('sheets', bell, '--only', 'work-order');
  expect([none.status, none.out]).toEqual([2, '']);
  expect(none.err).toContain('--from');
});

describe('draw', () => {
  test('draws the state that is asked for', async () => {
    const run = await ohmstead('draw', bell, '--state', 'porch-button');
    expect([run.status, run.err]).toEqual([0, '']);
    expect(run.out).toMatch(/^<svg [\s\S]*porch-button held[\s\S]*<\/svg>\n$/);
  });

  test('says what can be pressed, and which names have no circuit', async () => {
    const wrong = await ohmstead('draw', bell, '--state', 'porch-buton');
    expect([wrong.status, wrong.out]).toEqual([2, '']);
    expect(wrong.err).toContain('There are porch-button, yard-button.');
    expect((await ohmstead('draw', bell, '--circuit', 'attic-button')).status).toBe(2);
  });

  test('plots the way to a device, and how far a run could go', async () => {
    expect((await ohmstead('draw', bell, '--along', 'hall-chime')).out).toContain('Volts along the way to hall-chime');
    expect((await ohmstead('draw', bell, '--how-far', 'tx-to-hall')).out).toContain('How far could tx-to-hall go');
    const none = await ohmstead('draw', bell, '--how-far', 'hall-chime');
    expect([none.status, none.out]).toEqual([2, '']);
  });
});
