// Plots: the way of the current with its volts, and how far a run could go, each held against the figures of the record itself.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { reachOf, reachSvg, waySvg, waysTo } from '@ohmstead/views';
import { describe, expect, test } from 'vitest';

const root = new URL('../../../', import.meta.url).pathname;
const example = (name: string) => readFileSync(join(root, 'examples', name), 'utf8');
const checked = (source: string) => checkRecord(readRecord(parseWiring('file:///records/any.wiring', source)));

describe('volts along the way', () => {
  const { analysis } = checked(example('as-found-bell.wiring'));
  const ways = waysTo(analysis, 'hall-chime');

  test('go from the supply through each coil and back, one way for each button', () => {
    expect(ways.map(({ series }) => series.map(({ state }) => state))).toEqual([
      ['porch-button held'],
      ['yard-button held'],
    ]);
    expect(ways[0]!.steps.map(({ words }) => words)).toEqual([
      'bell-tx a',
      'hall-chime TRANS',
      'hall-chime FRONT',
      'porch-return',
      'porch-button b',
      'porch-button a',
      'joist-joint',
      'bell-tx b',
    ]);
  });

  test('start at the supply’s volts, end at none, and lose on each conductor what the budget says', () => {
    const budget = checked(example('as-found-bell.wiring')).budget();
    for (const { steps, series } of ways) {
      for (const { state, volts } of series) {
        const closed = [state.replace(' held', '')];
        const figures = budget.supplies[0]!.windings[0]!.solved.find((each) => each.closed.join() === closed.join())!;
        expect(volts[0]).toBeCloseTo(figures.volts!, 9);
        expect(volts.at(-1)).toBe(0);
        expect([...volts].sort((one, other) => other - one)).toEqual(volts);
        const [run] = budget.runs.filter(({ name }) => name === 'tx-to-hall');
        const red = run!.conductors.find(({ colour }) => colour === 'red')!;
        const drop = red.solved.find((each) => each.closed.join() === closed.join())!.dropVolts!;
        expect(steps[1]!.by).toBe('red RD of tx-to-hall');
        // Magnitudes to the end of the way: out of phase with the coil, a drop shows with no more than its own size.
        expect(volts[0]! - volts[1]!).toBeGreaterThan(0);
        expect(volts[0]! - volts[1]!).toBeLessThanOrEqual(Math.abs(drop) + 1e-9);
      }
    }
  });

  test('are none where no current goes', () => {
    expect(waysTo(analysis, 'nothing-of-that-name')).toEqual([]);
    expect(
      waysTo(
        checked(example('as-found-bell.wiring').replace('white  porch-return  to  porch-button.b', 'white  spare'))
          .analysis,
        'hall-chime',
      ),
    ).toHaveLength(1);
  });

  test('are written beside the line that shows them', () => {
    const svg = waySvg(ways[0]!, 'north-america');
    for (const words of ['16.8 V', 'red RD of tx-to-hall, 29 ft 6 in', 'loses 16.4 V', 'porch-button held'])
      expect(svg).toContain(words);
    expect(svg).not.toMatch(/NaN|undefined|<script/);
  });
});

describe('how far a run could go', () => {
  const source = example('doorbell-done-right.wiring');
  const record = checked(source);
  const reach = reachOf(record.analysis, record.budget(), 'tx-to-porch')!;

  test('is told for the device with the least to spare, in its worst moment', () => {
    expect([reach.device, reach.closed, reach.loads]).toEqual(['porch-cam', [], 'peak']);
    expect(reach.lines.map(({ gauge }) => gauge)).toEqual(['22 AWG', '20 AWG', '18 AWG', '16 AWG', '14 AWG']);
  });

  test('agrees with the budget at the recorded length', () => {
    const element = record
      .budget()
      .devices.find(({ name }) => name === 'porch-cam')!
      .elements.find(({ kind }) => kind === 'load')!;
    const peak = element.solved.find(({ closed, loads }) => closed.length === 0 && loads === 'peak')!;
    expect(reach.present!.metres).toBeCloseTo(6.5532, 9);
    expect(reach.present!.volts).toBeCloseTo(peak.volts!, 9);
  });

  test('is where the record itself, made that long, reaches the least volts', () => {
    const long = source.replace('9 m {', '120 m {').replace('16 V AC, 30 VA', '16 V AC, 20 VA');
    const far = checked(long);
    const found = reachOf(far.analysis, far.budget(), 'tx-to-hall')!;
    const line = found.lines.find(({ gauge }) => gauge === '18 AWG')!;
    expect(line.farthestMetres).toBeGreaterThan(20);
    expect(line.farthestMetres).toBeLessThan(300);
    const least = (metres: number) => {
      const budget = checked(long.replace('120 m {', `${metres.toFixed(3)} m {`)).budget();
      const load = budget.devices
        .find(({ name }) => name === 'porch-cam')!
        .elements.find(({ kind }) => kind === 'load')!;
      return load.solved.find(({ closed, loads }) => closed.length === 0 && loads === found.loads)?.volts ?? 0;
    };
    expect(least(line.farthestMetres!)).toBeGreaterThanOrEqual(found.least);
    expect(least(line.farthestMetres! + 0.3)).toBeLessThan(found.least);
  });

  test('grows with the conductor, and volts fall with length', () => {
    const ends = reach.lines.map(({ farthestMetres }) => farthestMetres ?? 0);
    expect([...ends].sort((one, other) => one - other)).toEqual(ends);
    for (const { points } of reach.lines) {
      expect(points.length).toBeGreaterThan(2);
      for (const [index, { volts }] of points.entries())
        if (index > 0) expect(volts).toBeLessThan(points[index - 1]!.volts);
    }
  });

  test('is not told of a run that feeds nothing', () => {
    expect(reachOf(record.analysis, record.budget(), 'no-such-run')).toBeUndefined();
  });

  test('is written under the lines', () => {
    const svg = reachSvg(reach, 'north-america');
    for (const words of ['22 AWG: ', 'as recorded: 21 ft 6 in', 'least for porch-cam']) expect(svg).toContain(words);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
});
