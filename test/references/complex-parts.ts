/**
 * An AC network with constant-power and constant-current loads as the simulator can solve it: its small-signal analysis takes no such loads, so
 * the real and the imaginary parts are written as two DC networks, coupled by controlled sources.
 */

import type { CircuitElement } from '../../packages/circuit/src/index.js';
import { isMade, namesOf, type Settings } from './simulator.js';

export interface InParts {
  readonly lines: readonly string[];
  readonly points: ReadonlyMap<string, string>;
}

export function writtenInParts(elements: readonly CircuitElement[], settings: Settings): InParts {
  const { state, solution } = settings;
  const points = namesOf(elements, settings);
  const lines: string[] = [];
  let count = 0;
  const re = (name: string): string => (name === '0' ? '0' : `${name}r`);
  const im = (name: string): string => (name === '0' ? '0' : `${name}i`);
  const joined = (a: string, b: string): void => {
    const id = count++;
    lines.push(`vr${id} ${re(a)} ${re(b)} dc 0`, `vi${id} ${im(a)} ${im(b)} dc 0`);
  };
  /** I = (g + j b) V as four transconductances. */
  const admittance = (a: string, b: string, ohms: number, reactance: number): void => {
    if (ohms === 0 && reactance === 0) {
      joined(a, b);
      return;
    }
    const square = ohms * ohms + reactance * reactance;
    const g = ohms / square;
    const s = -reactance / square;
    const id = count++;
    const [ar, br, ai, bi] = [re(a), re(b), im(a), im(b)];
    lines.push(`gr${id} ${ar} ${br} ${ar} ${br} ${g}`, `gi${id} ${ai} ${bi} ${ai} ${bi} ${g}`);
    if (s === 0) return;
    lines.push(`gs${id} ${ar} ${br} ${ai} ${bi} ${-s}`, `gt${id} ${ai} ${bi} ${ar} ${br} ${s}`);
  };
  const difference = (x: string, y: string): string =>
    `(${x === '0' ? '0' : `v(${x})`}-${y === '0' ? '0' : `v(${y})`})`;
  for (const element of elements) {
    const a = points.get(element.a);
    const b = points.get(element.b);
    if (a === undefined || b === undefined) continue;
    switch (element.kind) {
      case 'short':
        joined(a, b);
        break;
      case 'contact':
        if (isMade(element, state)) joined(a, b);
        break;
      case 'impedance':
        admittance(a, b, element.ohms, element.reactance);
        break;
      case 'bypass':
        if (solution.element(element.id)?.on) admittance(a, b, element.ohms, 0);
        break;
      case 'source': {
        const id = count++;
        const inner = `e${id}`;
        admittance(inner, a, element.ohms, element.reactance);
        if (element.fedBy === undefined) {
          const angle = (element.phase * Math.PI) / 180;
          lines.push(`vr${id} ${re(inner)} ${re(b)} dc ${element.volts * Math.cos(angle)}`);
          lines.push(`vi${id} ${im(inner)} ${im(b)} dc ${element.volts * Math.sin(angle)}`);
          break;
        }
        const fa = points.get(element.fedBy.a)!;
        const fb = points.get(element.fedBy.b)!;
        for (const part of [re, im]) {
          const own = `${part === re ? 'r' : 'i'}${id}`;
          lines.push(`v${own} ${part(inner)} x${own} dc 0`);
          lines.push(`e${own} x${own} ${part(b)} ${part(fa)} ${part(fb)} ${element.fedBy.ratio}`);
          lines.push(`f${own} ${part(fa)} ${part(fb)} v${own} ${-element.fedBy.ratio}`);
        }
        break;
      }
      case 'power':
      case 'current': {
        const figures = solution.element(element.id);
        if (figures?.on !== true) break;
        const id = count++;
        const [vr, vi] = [difference(re(a), re(b)), difference(im(a), im(b))];
        const square = `(${vr}*${vr}+${vi}*${vi})`;
        const factor =
          element.kind === 'power'
            ? `${element.voltAmperes[state.loads]}/${square}`
            : `${element.amps[state.loads]}/sqrt(${square})`;
        lines.push(`br${id} ${re(a)} ${re(b)} i=${vr}*${factor}`, `bi${id} ${im(a)} ${im(b)} i=${vi}*${factor}`);
        break;
      }
    }
  }
  const ground = [...points].filter(([, name]) => name === '0').map(([point]) => point);
  for (const [point, name] of points) {
    const guess = ground.map((other) => solution.between(point, other)).find((found) => found !== null);
    if (name === '0' || guess === undefined || guess === null) continue;
    // One digit off what the solver found: near enough to start from, far enough that the simulator has to work it out.
    lines.push(`.nodeset v(${re(name)})=${guess.re.toFixed(1)} v(${im(name)})=${guess.im.toFixed(1)}`);
  }
  return { lines, points };
}
