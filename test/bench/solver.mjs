/**
 * Speed of the circuit solver: networks of 10 to 50,000 points, from names to figures of a new topology (cold: names and the rest apart), of
 * one seen before with other figures (warm wire), of one more state solved in full, and of one of which some volts are asked for. In the same
 * run, on the same networks: eecircuit-engine (ngspice compiled to WebAssembly) and a bare sweep over arrays of the same length. Times are those
 * of the processor, so that other work on the machine counts little; they are still up to twice as long beside it. Bytes are what a solved
 * network keeps, per point. In the end what is wanted of it, and whether that holds.
 * `node --expose-gc test/bench/solver.mjs [most points] [shape]`
 */

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { Simulation } from 'eecircuit-engine';

const MOST = Number(process.argv[2] ?? 50_000);
const SIZES = [10, 100, 1000, 10_000, 50_000].filter((size) => size <= MOST);
/** Up to how many points the simulator is given the shapes too: beyond, it takes seconds for each. */
const SIMULATED = { ladder: 50_000, tree: 10_000, mesh: 1000, jumpers: 1000 };
const SIMULATED_ELSE = 1000;
/** Milliseconds that a network of this many points, and one of this many loads, is to take at most on a machine that does nothing else. */
const WANTED = { points: 50_000, cold: { DC: 20, AC: 25 }, again: 5, full: 5, loads: 400, collapse: 60 };
const ONLY = process.argv[3];

const { prepare } = await solver();

async function solver() {
  const entry = fileURLToPath(new URL('../../packages/circuit/src/index.ts', import.meta.url));
  const folder = mkdtempSync(join(tmpdir(), 'solver-bench-'));
  const outfile = join(folder, 'circuit.mjs');
  await build({ entryPoints: [entry], bundle: true, format: 'esm', outfile });
  const module = await import(pathToFileURL(outfile).href);
  rmSync(folder, { recursive: true });
  return module;
}

const source = (system, volts) => ({
  kind: 'source',
  id: 'supply',
  a: 'f0',
  b: 'r0',
  system,
  frequency: system === 'AC' ? 60 : 0,
  volts,
  phase: 0,
  ohms: 1e-3,
  reactance: system === 'AC' ? 5e-4 : 0,
});
const impedance = (id, a, b, ohms, reactance = 0) => ({ kind: 'impedance', id, a, b, ohms, reactance, wire: false });

/** Feed and return of two-conductor cables, bridged by coils every few points, with a button at some. */
function cable(system, points, parentOf) {
  const pairs = Math.max(2, points >> 1);
  const scale = pairs;
  const elements = [source(system, 24)];
  for (let i = 1; i < pairs; i++) {
    const from = parentOf(i);
    elements.push(
      impedance(`f${i}`, `f${from}`, `f${i}`, 0.5 / scale),
      impedance(`r${i}`, `r${from}`, `r${i}`, 0.5 / scale),
    );
    if (i % 5 === 0 || i === pairs - 1)
      elements.push(impedance(`coil${i}`, `f${i}`, `r${i}`, 20 * 10, system === 'AC' ? 150 : 0));
  }
  elements.push(impedance('last', `f${pairs - 1}`, 'c', 30, system === 'AC' ? 20 : 0));
  elements.push({ kind: 'contact', id: 'push', a: 'c', b: `r${pairs - 1}`, contact: 'push', normally: 'open' });
  elements.push(impedance('lamp', 'c', `r${pairs - 1}`, 2000));
  return elements;
}

function mesh(system, points) {
  const side = Math.max(2, Math.round(Math.sqrt(points)));
  const at = (x, y) => (x === 0 && y === 0 ? 'f0' : x === side - 1 && y === side - 1 ? 'r0' : `m${x}-${y}`);
  const elements = [source(system, 24)];
  for (let x = 0; x < side; x++) {
    for (let y = 0; y < side; y++) {
      if (x + 1 < side)
        elements.push(
          impedance(`h${x}-${y}`, at(x, y), at(x + 1, y), 1 + ((x * 7 + y) % 5), system === 'AC' ? 0.5 : 0),
        );
      if (y + 1 < side) elements.push(impedance(`v${x}-${y}`, at(x, y), at(x, y + 1), 1 + ((x + y * 3) % 5)));
    }
  }
  elements.push(
    { kind: 'contact', id: 'push', a: at(1, 0), b: 'c', contact: 'push', normally: 'open' },
    impedance('coil', 'c', 'r0', 30),
  );
  return elements;
}

const SHAPES = {
  tree: (system, points) =>
    cable(system, points, (i) => (i % 3 === 0 ? i - 1 : (Math.imul(i, 2_654_435_761) >>> 0) % i)),
  ladder: (system, points) => cable(system, points, (i) => i - 1),
  star: (system, points) => cable(system, points, () => 0),
  mesh,
  'in a row': (system, points) => {
    const elements = [source(system, 24)];
    for (let i = 1; i < points; i++)
      elements.push(impedance(`w${i}`, `f${i - 1}`, `f${i}`, 0.01, system === 'AC' ? 0.001 : 0));
    elements.push(impedance('end', `f${points - 1}`, 'r0', 30));
    elements.push({ kind: 'contact', id: 'push', a: `f${points - 1}`, b: 'r0', contact: 'push', normally: 'open' });
    return elements;
  },
  'side by side': (system, points) => {
    const elements = [source(system, 24), impedance('feed', 'f0', 'm', 0.1)];
    for (let i = 1; i < points; i++) elements.push(impedance(`p${i}`, 'm', 'r0', 1000 + i, system === 'AC' ? 100 : 0));
    elements.push({ kind: 'contact', id: 'push', a: 'm', b: 'c', contact: 'push', normally: 'open' });
    elements.push(impedance('coil', 'c', 'r0', 30));
    return elements;
  },
  jumpers: (system, points) => {
    const elements = [source(system, 24)];
    for (let i = 1; i < points; i++)
      elements.push({ kind: 'short', id: `j${i}`, a: `f${(Math.imul(i, 2_654_435_761) >>> 0) % i}`, b: `f${i}` });
    for (let i = 0; i < points; i += 50)
      elements.push(impedance(`coil${i}`, `f${i}`, 'r0', 1000 + i, system === 'AC' ? 100 : 0));
    elements.push({ kind: 'contact', id: 'push', a: `f${points - 1}`, b: 'c', contact: 'push', normally: 'open' });
    elements.push(impedance('coil', 'c', 'r0', 30));
    return elements;
  },
};

/** What electronic loads along a cable ask for, all told, and down to which volts they stay on. */
const ASKED = {
  'that have enough': { voltAmperes: 40, staysOnFrom: (k) => (k % 10 === 0 ? 14 : 10) },
  'of which some drop out': { voltAmperes: 80, staysOnFrom: (k) => (k % 10 === 0 ? 14 : 10) },
  'that collapse': { voltAmperes: 4000, staysOnFrom: () => 2 },
};

function withLoads(system, points, loads, { voltAmperes, staysOnFrom }) {
  const elements = cable(system, points, (i) => i - 1);
  const pairs = points >> 1;
  for (let k = 0; k < loads; k++) {
    const at = 1 + Math.floor((k * (pairs - 1)) / loads);
    elements.push({
      kind: 'power',
      id: `load${k}`,
      a: `f${at}`,
      b: `r${at}`,
      voltAmperes: { idle: voltAmperes / loads, peak: voltAmperes / loads },
      powerFactor: 1,
      staysOnFrom: staysOnFrom(k),
    });
  }
  return elements;
}

const AT_REST = { closed: [], loads: 'idle' };
const PRESSED = { closed: ['push'], loads: 'idle' };

const processorMs = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

/** The best of three rounds, each long enough for the clock of the processor; what takes a second is done once. */
function milliseconds(work, roundMs = 60) {
  const began = processorMs();
  work();
  const first = processorMs() - began;
  if (first > 1000) return first;
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 3; round++) {
    const start = processorMs();
    let count = 0;
    while (count === 0 || processorMs() - start < roundMs) {
      work();
      count++;
    }
    best = Math.min(best, (processorMs() - start) / count);
  }
  return best;
}

/** From names to figures, and how much of it is done once the network is made ready. */
function coldTimes(elements, roundMs = 60) {
  let best = { cold: Number.POSITIVE_INFINITY, names: 0 };
  for (let round = 0; round < 4 && (round === 0 || best.cold < 1000); round++) {
    let [whole, names, count] = [0, 0, 0];
    while (count === 0 || whole < roundMs) {
      const start = processorMs();
      const prepared = prepare({ elements });
      const ready = processorMs();
      solveOnce(prepared, AT_REST).element('supply');
      whole += processorMs() - start;
      names += ready - start;
      count++;
    }
    if (whole / count < best.cold) best = { cold: whole / count, names: names / count };
  }
  return best;
}

const solveAll = (prepared, state) => prepared.solve(prepared.circuitOf('f0'), state);

function solveOnce(prepared, state) {
  const solution = solveAll(prepared, state);
  if (solution.problem !== undefined) throw new Error(JSON.stringify(solution.problem));
  return solution;
}

async function simulated(elements, frequency) {
  const simulation = new Simulation();
  await simulation.start();
  const lines = ['bench'];
  const name = (point) => (point === 'r0' ? '0' : point.replace('-', 'x'));
  elements.forEach((e, k) => {
    const [a, b] = [name(e.a), name(e.b)];
    if (e.kind === 'source') {
      lines.push(
        `v${k} e${k} ${b} dc ${frequency ? 0 : e.volts} ac ${e.volts}`,
        `r${k} e${k} ${e.reactance ? `i${k}` : a} ${e.ohms}`,
      );
      if (e.reactance) lines.push(`l${k} i${k} ${a} ${e.reactance / (2 * Math.PI * frequency)}`);
    } else if (e.kind === 'impedance') {
      const reactance = frequency ? e.reactance : 0;
      lines.push(`r${k} ${a} ${reactance ? `i${k}` : b} ${e.ohms}`);
      if (reactance) lines.push(`l${k} i${k} ${b} ${reactance / (2 * Math.PI * frequency)}`);
    } else if (e.kind === 'short') lines.push(`v${k} ${a} ${b} dc 0`);
  });
  lines.push(frequency ? `.ac lin 1 ${frequency} ${frequency}` : '.op', '.end', '');
  simulation.setNetList(lines.join('\n'));
  const start = processorMs();
  await simulation.runSim();
  return processorMs() - start;
}

/** What can't be beaten in this language: one pass down and one up over plain arrays. */
function bareSweep(points) {
  const parent = Int32Array.from({ length: points }, (_, i) => Math.max(0, i - 1));
  const g = new Float64Array(points).fill(2);
  const v = new Float64Array(points);
  return milliseconds(() => {
    const d = Float64Array.from(g);
    for (let i = points - 1; i > 0; i--) d[parent[i]] -= 1 / d[i];
    v[0] = 24;
    for (let i = 1; i < points; i++) v[i] = v[parent[i]] / d[i];
  });
}

const HEAD = [
  'network',
  'points',
  'cold',
  'its names',
  'the rest',
  'other figures',
  'full state',
  'other state',
  'bytes',
  'simulator',
  'cold: ratio',
  'state: ratio',
  'cold of sweep',
  'for 5 x points',
];
const print = (cells) =>
  console.log(
    cells
      .map((cell, column) => (column === 0 ? cell.padEnd(40) : cell.padStart(Math.max(9, HEAD[column].length))))
      .join(' '),
  );
print(HEAD);
const figure = (ms) =>
  ms === undefined ? '' : ms < 0.1 ? `${(ms * 1000).toPrecision(2)} us` : `${ms.toPrecision(3)} ms`;
const times = (theirs, ours) => (theirs === undefined ? '' : `${(theirs / ours).toPrecision(2)} x`);

const sweeps = new Map();
function sweepOf(size) {
  if (!sweeps.has(size)) sweeps.set(size, bareSweep(size));
  return sweeps.get(size);
}

const warm = (elements) => elements.map((e) => (e.kind === 'impedance' ? { ...e, ohms: e.ohms * 1.157 } : e));

const cases = ['DC', 'AC'].flatMap((system) =>
  Object.entries(SHAPES)
    .filter(([shape]) => ONLY === undefined || shape === ONLY)
    .flatMap(([shape, draw]) => SIZES.map((size) => ({ system, shape, size, elements: draw(system, size) }))),
);
// Collecting all garbage, as counting bytes and starting the simulator do, throws compiled code away: all times are taken before.
for (let round = 0; round < 2; round++)
  for (const one of cases) if (one.size <= 1000 || round > 0) one.own = ownTimes(one);
const wanted = [];
const want = (what, ms, most) => wanted.push([what, ms, most]);
let smaller;
for (const one of cases) {
  const { system, shape, size, elements, own } = one;
  const bytes = size < 10_000 ? undefined : bytesOf(elements) / size;
  const isSimulated = size <= (SIMULATED[shape] ?? SIMULATED_ELSE);
  const theirs = isSimulated ? await simulated(elements, system === 'AC' ? 60 : 0) : undefined;
  print([
    `${shape}, ${system}`,
    String(size),
    figure(own.cold),
    figure(own.names),
    figure(own.cold - own.names),
    figure(own.again),
    figure(own.full),
    figure(own.other),
    bytes?.toFixed(0) ?? '',
    figure(theirs),
    times(theirs, own.cold),
    times(theirs, own.other),
    times(own.cold, sweepOf(size)),
    size === 50_000 ? times(own.cold, smaller) : '',
  ]);
  smaller = own.cold;
  one.elements = undefined;
  if (size !== WANTED.points) continue;
  want(`${shape}, ${system}: cold`, own.cold, WANTED.cold[system]);
  want(`${shape}, ${system}: other figures`, own.again, WANTED.again);
  want(`${shape}, ${system}: full state`, own.full, WANTED.full);
}

function ownTimes({ elements }) {
  const { cold, names } = coldTimes(elements);
  const prepared = prepare({ elements });
  solveOnce(prepared, AT_REST);
  const others = warm(elements);
  const again = milliseconds(() => solveOnce(prepare({ elements: others }, prepared), AT_REST).element('supply'));
  let closed = false;
  const turned = (of) => {
    closed = !closed;
    return solveOnce(of, closed ? PRESSED : AT_REST);
  };
  const other = milliseconds(() => turned(prepared).between('f0', 'r0'));
  // What flows through a contact is only known from a solution in full; a small circuit that was asked for it is solved in full ever after, so
  // that this is done with another one. Both topologies are seen first.
  const inFull = prepare({ elements });
  for (let k = 0; k < 2; k++) turned(inFull).element('push');
  const full = milliseconds(() => turned(inFull).element('push'));
  return { cold, names, again, full, other };
}

for (const system of ONLY === undefined || ONLY === 'loads' ? ['DC', 'AC'] : []) {
  for (const loads of [4, 40, 400]) {
    const size = 10 * loads;
    for (const [what, asked] of Object.entries(ASKED)) {
      const elements = withLoads(system, size, loads, asked);
      const cold = milliseconds(() => solveAll(prepare({ elements }), AT_REST));
      const prepared = prepare({ elements });
      let end = '';
      const state = milliseconds(() => {
        const { problem, droppedOut } = solveAll(prepared, AT_REST);
        end = problem === undefined ? `${droppedOut.length} off` : problem.kind;
      });
      const blank = new Array(HEAD.length - 7).fill('');
      print([
        `${loads} loads ${what}, ${system}`,
        String(size),
        figure(cold),
        '',
        '',
        '',
        figure(state),
        ...blank.slice(1),
        end,
      ]);
      if (loads === WANTED.loads && what === 'that collapse')
        want(`${loads} loads ${what}, ${system}`, cold, WANTED.collapse);
    }
  }
}

for (const [what, ms, most] of wanted)
  console.log(`${what.padEnd(40)} ${figure(ms).padStart(9)} of ${most} ms: ${ms <= most ? 'holds' : 'does not hold'}`);

/** Buffers are given back beside the program; a second collection waits for those of the first. */
function collectGarbage() {
  globalThis.gc?.();
  globalThis.gc?.();
}

function bytesOf(elements) {
  collectGarbage();
  const before = process.memoryUsage();
  const prepared = prepare({ elements });
  const kept = solveOnce(prepared, AT_REST);
  collectGarbage();
  const after = process.memoryUsage();
  kept.element('supply');
  return after.heapUsed + after.arrayBuffers - before.heapUsed - before.arrayBuffers;
}
