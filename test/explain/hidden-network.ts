/** A hidden house's wiring: figures drawn about those of its record, joints and contacts with ohms of their own, and what faults do to them. */

import {
  type Circuit,
  type CircuitElement,
  type ElementFigures,
  type Phasor,
  prepare,
  type Solution,
} from '../../packages/circuit/src/index.js';
import { type Analysis, pointOf } from '../../packages/record/src/index.js';
import type { Draws } from './draws.js';

export interface Sounder {
  readonly id: string;
  readonly part: string;
  readonly note: string;
  readonly ringsFrom: number;
  readonly humsFrom: number;
  readonly electronic: boolean;
}

interface Light {
  readonly id: string;
  readonly part: string;
  readonly from: number;
}

interface SolvedState {
  readonly system: string | undefined;
  between(a: string, b: string): Phasor | null;
  element(id: string): ElementFigures | undefined;
}

interface Winding {
  emf: number;
  ohms: number;
}

export interface Truth {
  /** Half the spread of the mains, coils and lengths, as shares. */
  readonly mains: number;
  readonly coil: number;
  readonly length: number;
  readonly regulation: readonly [number, number];
}

/** As the fault finder's proof has it. */
export const TRUTH: Truth = { mains: 0.05, coil: 0.3, length: 0.2, regulation: [0.15, 0.4] };

export abstract class HiddenNetwork {
  protected readonly elements = new Map<string, CircuitElement>();
  protected readonly sounders: Sounder[] = [];
  protected readonly lights: Light[] = [];
  protected readonly stuck = new Set<string>();
  protected readonly firstWires = new Map<string, string>();
  protected readonly dcOhms = new Map<string, number>();
  protected readonly mains: number;
  protected readonly solved = new Map<string, SolvedState>();

  constructor(
    protected readonly analysis: Analysis,
    protected readonly draws: Draws,
    protected readonly truth: Truth = TRUTH,
  ) {
    this.mains = 1 + draws.between(-truth.mains, truth.mains);
    for (const part of analysis.parts.values()) for (const element of part.elements) this.addElement(element);
    for (const { run, conductors } of analysis.runs.values()) {
      const factor = 1 + draws.between(-truth.length, truth.length);
      for (const { colour, from, to, ohms } of conductors) {
        const id = `${run.name}.${colour}`;
        this.addWire(
          id,
          `${id}@from`,
          `${id}@to`,
          Math.max((ohms?.nominal ?? draws.between(0.05, 0.6)) * factor, 1e-3),
        );
        for (const [end, at] of [
          ['from', from],
          ['to', to],
        ] as const) {
          if (at === undefined) continue;
          this.addWire(`${id}@${end}`, `${id}@${end}`, pointOf(at), this.joint());
          if (!this.firstWires.has(pointOf(at))) this.firstWires.set(pointOf(at), `${id}@${end}`);
        }
      }
    }
    for (const { name, from, to } of analysis.jumpers.values()) {
      this.addWire(`jumper/${name}`, pointOf(from), pointOf(to), this.joint());
    }
    for (const part of [...analysis.installation.supplies, ...analysis.installation.devices]) {
      part.lands.forEach(({ terminal, on }, k) => {
        this.addWire(`lead/${part.name}/${k}`, `${part.name}.${terminal}`, pointOf(on), this.joint());
      });
    }
  }

  // What faults do.

  scaleSupply(part: string, emf: number, ohms: number): void {
    for (const [id, element] of this.elements) {
      if (element.kind !== 'source' || !id.startsWith(`part/${part}/`)) continue;
      this.elements.set(id, { ...element, volts: element.volts * emf, ohms: element.ohms * ohms });
    }
  }

  contact(name: string, as: number | 'open' | 'closed'): void {
    for (const [id, element] of this.elements) {
      if (element.kind !== 'contact' || element.contact !== name) continue;
      if (as === 'open') this.elements.delete(id);
      else if (as === 'closed') this.elements.set(id, { kind: 'short', id, a: element.a, b: element.b });
      else this.setOhms(`${id}#contact`, as);
    }
  }

  remove(id: string): void {
    this.elements.delete(id);
  }

  setOhms(id: string, ohms: number): void {
    const element = this.elements.get(id);
    if (element?.kind === 'impedance') this.elements.set(id, { ...element, ohms });
  }

  scaleOhms(id: string, factor: number): void {
    const element = this.elements.get(id);
    if (element?.kind !== 'impedance') return;
    this.elements.set(id, { ...element, ohms: element.ohms * factor, reactance: element.reactance * factor });
    const dc = this.dcOhms.get(id);
    if (dc !== undefined) this.dcOhms.set(id, dc * factor);
  }

  stick(id: string): void {
    this.stuck.add(id);
  }

  join(a: string, b: string, ohms: number): void {
    this.addWire(`stray/${a}/${b}`, a, b, ohms);
  }

  swap(one: string, other: string): void {
    const [x, y] = [this.elements.get(one), this.elements.get(other)];
    if (x === undefined || y === undefined) return;
    this.elements.set(one, { ...x, b: y.b });
    this.elements.set(other, { ...y, b: x.b });
  }

  toggleRing(id: string): void {
    const ring = this.analysis.elements.get(id)!;
    if (this.elements.delete(id)) return;
    this.elements.set(id, { kind: 'contact', id, a: ring.a, b: ring.b, contact: ring.contact!, normally: 'open' });
  }

  latch(id: string): void {
    const element = this.elements.get(id);
    if (element?.kind === 'bypass') this.elements.set(id, { ...element, opensAbove: 1e9 });
  }

  // The house.

  protected joint(): number {
    return this.draws.factor(0.005, 0.15);
  }

  protected addWire(id: string, a: string, b: string, ohms: number): void {
    if (a !== b) this.elements.set(id, { kind: 'impedance', id, a, b, ohms, reactance: 0, wire: true });
  }

  protected winding(resolved: Parameters<HiddenNetwork['addElement']>[0]): Winding {
    const { ratedVolts = 0, noLoadVolts = 0, ohms = 0, ratedAmps = 0, ratedVoltAmperes = 0, assumed } = resolved;
    const isAssumed = assumed.some(({ what }) => what === 'no-load') && ratedAmps > 0;
    if (!isAssumed) return { emf: noLoadVolts, ohms: ohms * this.draws.between(0.8, 1.2) };
    const share = Math.max(noLoadVolts / ratedVolts - 1, 0);
    const [least, most] = ratedVoltAmperes <= 15 ? this.truth.regulation : [0.6 * share, 1.5 * share];
    const regulation = this.draws.between(least, most);
    return { emf: ratedVolts * (1 + regulation), ohms: (regulation * ratedVolts) / ratedAmps };
  }

  protected addElement(resolved: NonNullable<ReturnType<Analysis['elements']['get']>>): void {
    const { element, id, a, b, part, present } = resolved;
    const draws = this.draws;
    const between = { id, a, b };
    switch (element.kind) {
      case 'winding': {
        const { emf, ohms } = this.winding(resolved);
        const isRegulated = resolved.system === 'DC';
        const volts = emf * (isRegulated ? draws.between(0.98, 1.02) : this.mains);
        this.elements.set(id, {
          kind: 'source',
          ...between,
          system: resolved.system ?? 'AC',
          frequency: resolved.frequency ?? 0,
          volts,
          phase: element.phase ?? 0,
          ohms,
          reactance: resolved.reactance ?? 0,
        });
        return;
      }
      case 'contact': {
        if (!present) return;
        const middle = `${id}#middle`;
        const contact = resolved.contact ?? part;
        this.elements.set(id, {
          kind: 'contact',
          ...between,
          b: middle,
          contact,
          normally: element.normallyClosed ? 'closed' : 'open',
        });
        this.addWire(`${id}#contact`, middle, b, draws.between(0.01, 0.25));
        if (element.restTo === undefined) return;
        const rest = element.normallyClosed ? 'open' : 'closed';
        this.elements.set(`${id}/rest`, {
          kind: 'contact',
          id: `${id}/rest`,
          a,
          b: `${part}.${element.restTo}`,
          contact,
          normally: rest,
        });
        return;
      }
      case 'coil': {
        const factor = 1 + draws.between(-this.truth.coil, this.truth.coil);
        this.elements.set(id, {
          kind: 'impedance',
          ...between,
          ohms: (resolved.ohms ?? 1) * factor,
          reactance: resolved.system === 'DC' ? 0 : (resolved.reactance ?? 0) * factor,
          wire: false,
        });
        this.dcOhms.set(id, (element.dcOhms ?? draws.factor(3, 16)) * draws.between(0.85, 1.15));
        const ringsFrom = (resolved.ringsFromVolts ?? 0.6 * (resolved.ratedVolts ?? 0)) * draws.between(0.85, 1.15);
        const humsFrom = (resolved.humsFromAmps ?? Number.POSITIVE_INFINITY) * draws.between(0.7, 1.3);
        this.sounders.push({ id, part, note: element.b, ringsFrom, humsFrom, electronic: element.humsFrom === 'off' });
        return;
      }
      case 'lamp':
        this.addResistor(resolved, (resolved.ohms ?? 1) * draws.between(0.85, 1.15));
        this.dcOhms.set(id, (resolved.ohms ?? 1) * 0.1);
        this.lights.push({ id, part, from: 0.3 * (resolved.ratedVolts ?? 0) * draws.between(0.6, 1.4) });
        return;
      case 'load':
        this.addLoad(resolved);
        return;
      case 'bypass':
        if (element.opensAbove === undefined) this.addResistor(resolved, resolved.ohms ?? 0);
        else
          this.elements.set(id, {
            kind: 'bypass',
            ...between,
            ohms: (resolved.ohms ?? 0) * draws.between(0.8, 1.2),
            opensAbove: element.opensAbove,
          });
        return;
      case 'resistor':
      case 'impedance':
        this.addResistor(resolved, (resolved.ohms ?? 1) * draws.between(0.95, 1.05));
        if (this.analysis.parts.get(part)?.role === 'button')
          this.lights.push({ id, part, from: 5 * draws.between(0.6, 1.4) });
        return;
      case 'link':
        this.elements.set(id, { kind: 'short', ...between });
        return;
      case 'diode':
        this.elements.set(id, { kind: 'diode', ...between });
        return;
      default:
    }
  }

  protected addResistor(
    { id, a, b, reactance = 0 }: { id: string; a: string; b: string; reactance?: number },
    ohms: number,
  ): void {
    this.elements.set(id, { kind: 'impedance', id, a, b, ohms, reactance, wire: false });
  }

  protected addLoad(resolved: Parameters<HiddenNetwork['addElement']>[0]): void {
    const { id, a, b, part, draws: draw, powerFactor = 1 } = resolved;
    const isSounder = this.analysis.parts.get(part)?.role === 'chime';
    const { idle = 0, peak = 0 } = draw ?? {};
    const factor = this.draws.between(0.8, 1.2);
    const steady = this.draws.between(idle, peak);
    const both = isSounder ? { idle: idle * factor, peak: peak * factor } : { idle: steady, peak: steady };
    const staysOnFrom = (resolved.staysOnFrom ?? 0) * this.draws.between(0.9, 1.1);
    const rest = { id, a, b, powerFactor, staysOnFrom };
    this.elements.set(
      id,
      draw?.unit === 'A' ? { kind: 'current', ...rest, amps: both } : { kind: 'power', ...rest, voltAmperes: both },
    );
    this.dcOhms.set(id, this.draws.factor(300, 60_000));
    if (isSounder)
      this.sounders.push({
        id,
        part,
        note: resolved.element.kind === 'load' ? resolved.element.b : '',
        ringsFrom: staysOnFrom,
        humsFrom: Number.POSITIVE_INFINITY,
        electronic: true,
      });
    else this.lights.push({ id, part, from: staysOnFrom });
  }

  /** The first wire on a screw, as it was before anything was wrong with it. */
  protected wireAt(point: string): string {
    return this.firstWires.get(point) ?? point;
  }

  protected solve(
    pressed: readonly string[],
    bridged: readonly string[],
    more: readonly CircuitElement[],
    near: string,
  ): SolvedState {
    const key = JSON.stringify([pressed, bridged, near, more.map(({ a, b }) => [a, b])]);
    const known = this.solved.get(key);
    if (known !== undefined) return known;
    const bridges = bridged.flatMap((name): CircuitElement[] => {
      const contact = [...this.analysis.elements.values()].find((one) => one.contact === name);
      if (contact === undefined) return [];
      const [a, b] = [this.wireAt(contact.a), this.wireAt(contact.b)];
      return [{ kind: 'impedance', id: `bridge/${name}`, a, b, ohms: 0.05, reactance: 0, wire: true }];
    });
    const elements = [...this.elements.values(), ...bridges, ...more];
    const loads = pressed.length + bridged.length > 0 ? 'peak' : 'idle';
    const solveNear = (point: string, off: readonly string[]): Near => {
      const prepared = prepare({
        elements: elements.filter(({ id }) => !off.includes(id)),
      });
      const circuit = prepared.circuitOf(point);
      const solution =
        circuit === undefined ? undefined : prepared.solve(circuit, { closed: [...pressed].sort(), loads });
      // A load that would collapse its supply, try again and collapse it again, is off as good as always.
      if (off.length === 0 && solution?.problem?.kind === 'collapses') return solveNear(point, solution.problem.loads);
      return { circuit, solution };
    };
    const { circuit, solution } = solveNear(near, []);
    const made = {
      system: circuit?.system,
      between: (a: string, b: string) => solution?.between(a, b) ?? null,
      element: (id: string) => solution?.element(id),
    };
    this.solved.set(key, made);
    return made;
  }

  protected figures(id: string, pressed: readonly string[], bridged: readonly string[]) {
    const element = this.elements.get(id);
    return element === undefined ? undefined : this.solve(pressed, bridged, [], element.a).element(id);
  }

  protected across(id: string, pressed: readonly string[], bridged: readonly string[]): number {
    const volts = this.figures(id, pressed, bridged)?.volts;
    return volts === undefined ? 0 : Math.hypot(volts.re, volts.im);
  }

  protected through(id: string, pressed: readonly string[], bridged: readonly string[]): number {
    const amps = this.figures(id, pressed, bridged)?.amps;
    return amps === undefined || amps === null ? 0 : Math.hypot(amps.re, amps.im);
  }

  protected isOn(id: string, pressed: readonly string[], bridged: readonly string[]): boolean {
    return this.figures(id, pressed, bridged)?.on === true;
  }

  /** Supplies lifted, filaments cold, and electronics as some ohms that nobody knows. */
  protected asMetered(): CircuitElement[] {
    return [...this.elements.values()].flatMap((element): CircuitElement[] => {
      const dc = this.dcOhms.get(element.id);
      if (element.kind === 'source') return [];
      if (dc === undefined) return [element];
      return [{ kind: 'impedance', id: element.id, a: element.a, b: element.b, ohms: dc, reactance: 0, wire: false }];
    });
  }
}

interface Near {
  readonly circuit: Circuit | undefined;
  readonly solution: Solution | undefined;
}
