/**
 * A house as it really is: figures drawn about those of its record, joints and contacts with ohms of their own, at most one thing wrong, and a
 * meter that is off. Every answer is a solution of its whole network; nothing here is shared with the fault finder.
 */

import {
  type CircuitElement,
  type ElementFigures,
  ohmsBetween,
  type Phasor,
  prepare,
} from '../../packages/circuit/src/index.js';
import {
  type Analysis,
  type Asked,
  type MeterPoint,
  pointOf,
  type Reading,
  type Sign,
} from '../../packages/record/src/index.js';
import type { Draws } from './draws.js';

interface Sounder {
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

const METER = { share: 0.02, volts: 0.2, ohms: 0.3, input: 1e7 };
const OVER_RANGE = 2e7;

export class HiddenHouse {
  private readonly elements = new Map<string, CircuitElement>();
  private readonly sounders: Sounder[] = [];
  private readonly lights: Light[] = [];
  private readonly stuck = new Set<string>();
  private readonly firstWires = new Map<string, string>();
  private readonly dcOhms = new Map<string, number>();
  private readonly mains: number;
  private readonly solved = new Map<string, SolvedState>();

  constructor(
    private readonly analysis: Analysis,
    private readonly draws: Draws,
    private readonly truth: Truth = TRUTH,
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

  /** The same reading with its figure, as this house and this meter give it. */
  answer({ state, of }: Asked): Reading {
    if (of.kind === 'mains') return { state, of: { ...of, volts: 120 * this.mains } };
    if (of.kind === 'sign') {
      if (state.kind === 'off') return { state, of: { ...of, shows: 'silent' } };
      return { state, of: { ...of, ...this.sign(of.part, state.pressed, state.bridged ?? []) } };
    }
    const [a, b] = of.between.map((point) => this.pointOf(point)) as [string, string];
    const off = (size: number, step: number): number =>
      size * (1 + this.draws.between(-METER.share, METER.share)) + this.draws.between(-step, step);
    if (of.kind === 'ohms') {
      const ohms = ohmsBetween({ elements: this.asMetered() }, a, b, []);
      return {
        state,
        of: { ...of, ohms: ohms === null || ohms > OVER_RANGE ? null : Math.max(0, round(off(ohms, METER.ohms))) },
      };
    }
    const live = state.kind === 'live' ? state : { pressed: [], bridged: [] };
    const volts = this.volts(a, b, live.pressed, live.bridged ?? []);
    return {
      state,
      of: {
        ...of,
        volts: round(volts.signed ? off(volts.value, METER.volts) : Math.abs(off(volts.value, METER.volts))),
      },
    };
  }

  /** True volts from a to b, the meter's load included. */
  volts(
    a: string,
    b: string,
    pressed: readonly string[],
    bridged: readonly string[],
  ): { value: number; signed: boolean } {
    const meter: CircuitElement = {
      kind: 'impedance',
      id: 'meter',
      a,
      b,
      ohms: METER.input,
      reactance: 0,
      wire: false,
    };
    const { between, system } = this.solve(pressed, bridged, a === b ? [] : [meter], a);
    const found = between(a, b);
    const signed = system === 'DC';
    return { value: found === null ? 0 : signed ? found.re : Math.hypot(found.re, found.im), signed };
  }

  ohms(a: string, b: string): number {
    return ohmsBetween({ elements: this.asMetered() }, a, b, []) ?? Number.POSITIVE_INFINITY;
  }

  sign(part: string, pressed: readonly string[], bridged: readonly string[]): { shows: Sign; note?: string } {
    const sounders = this.sounders.filter((one) => one.part === part);
    if (sounders.length === 0) {
      const isLit = this.lights.some(
        (one) =>
          one.part === part && this.isOn(one.id, pressed, bridged) && this.across(one.id, pressed, bridged) >= one.from,
      );
      return { shows: isLit ? 'lit' : 'dark' };
    }
    const isActed = pressed.length + bridged.length > 0;
    const ringing = sounders.filter((one) => {
      if (this.stuck.has(one.id) || !this.pulls(one, pressed, bridged)) return false;
      return one.electronic || (isActed && !this.pulls(one, [], []));
    });
    if (ringing.length > 0) {
      const loudest = ringing.sort(
        (x, y) => this.across(y.id, pressed, bridged) - this.across(x.id, pressed, bridged),
      )[0]!;
      return { shows: 'rings', ...(sounders.length > 1 ? { note: loudest.note } : {}) };
    }
    const isHumming = sounders.some(
      (one) => !one.electronic && !this.stuck.has(one.id) && this.through(one.id, pressed, bridged) >= one.humsFrom,
    );
    return { shows: isHumming ? 'hums' : 'silent' };
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

  private joint(): number {
    return this.draws.factor(0.005, 0.15);
  }

  private addWire(id: string, a: string, b: string, ohms: number): void {
    if (a !== b) this.elements.set(id, { kind: 'impedance', id, a, b, ohms, reactance: 0, wire: true });
  }

  private winding(resolved: Parameters<HiddenHouse['addElement']>[0]): Winding {
    const { ratedVolts = 0, noLoadVolts = 0, ohms = 0, ratedAmps = 0, ratedVoltAmperes = 0, assumed } = resolved;
    const isAssumed = assumed.some(({ what }) => what === 'no-load') && ratedAmps > 0;
    if (!isAssumed) return { emf: noLoadVolts, ohms: ohms * this.draws.between(0.8, 1.2) };
    const share = Math.max(noLoadVolts / ratedVolts - 1, 0);
    const [least, most] = ratedVoltAmperes <= 15 ? this.truth.regulation : [0.6 * share, 1.5 * share];
    const regulation = this.draws.between(least, most);
    return { emf: ratedVolts * (1 + regulation), ohms: (regulation * ratedVolts) / ratedAmps };
  }

  private addElement(resolved: NonNullable<ReturnType<Analysis['elements']['get']>>): void {
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

  private addResistor(
    { id, a, b, reactance = 0 }: { id: string; a: string; b: string; reactance?: number },
    ohms: number,
  ): void {
    this.elements.set(id, { kind: 'impedance', id, a, b, ohms, reactance, wire: false });
  }

  private addLoad(resolved: Parameters<HiddenHouse['addElement']>[0]): void {
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

  private pointOf(point: MeterPoint): string {
    if (point.kind === 'end') return pointOf(point.end);
    const { run } = this.analysis.runs.get(point.run)!;
    const conductor = run.conductors.find(({ colour }) => colour === point.colour)!;
    const isAt = (place: string | undefined, landing: typeof conductor.from): boolean =>
      place === point.at ||
      (landing?.kind === 'on' && this.analysis.parts.get(landing.end.part)?.place?.name === point.at) ||
      (landing?.kind === 'on' && landing.end.part === point.at);
    return `${point.run}.${point.colour}@${isAt(run.fromPlace, conductor.from) ? 'from' : 'to'}`;
  }

  /** The first wire on a screw, as it was before anything was wrong with it. */
  private wireAt(point: string): string {
    return this.firstWires.get(point) ?? point;
  }

  private solve(
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
    const prepared = prepare({ elements: [...this.elements.values(), ...bridges, ...more] });
    const circuit = prepared.circuitOf(near);
    const loads = pressed.length + bridged.length > 0 ? 'peak' : 'idle';
    const solution =
      circuit === undefined ? undefined : prepared.solve(circuit, { closed: [...pressed].sort(), loads });
    const made = {
      system: circuit?.system,
      between: (a: string, b: string) => solution?.between(a, b) ?? null,
      element: (id: string) => solution?.element(id),
    };
    this.solved.set(key, made);
    return made;
  }

  private figures(id: string, pressed: readonly string[], bridged: readonly string[]) {
    const element = this.elements.get(id);
    return element === undefined ? undefined : this.solve(pressed, bridged, [], element.a).element(id);
  }

  private across(id: string, pressed: readonly string[], bridged: readonly string[]): number {
    const volts = this.figures(id, pressed, bridged)?.volts;
    return volts === undefined ? 0 : Math.hypot(volts.re, volts.im);
  }

  private through(id: string, pressed: readonly string[], bridged: readonly string[]): number {
    const amps = this.figures(id, pressed, bridged)?.amps;
    return amps === undefined || amps === null ? 0 : Math.hypot(amps.re, amps.im);
  }

  private isOn(id: string, pressed: readonly string[], bridged: readonly string[]): boolean {
    return this.figures(id, pressed, bridged)?.on === true;
  }

  private pulls({ id, ringsFrom }: Sounder, pressed: readonly string[], bridged: readonly string[]): boolean {
    return this.isOn(id, pressed, bridged) && this.across(id, pressed, bridged) >= ringsFrom;
  }

  /** Supplies lifted, filaments cold, and electronics as some ohms that nobody knows. */
  private asMetered(): CircuitElement[] {
    return [...this.elements.values()].flatMap((element): CircuitElement[] => {
      const dc = this.dcOhms.get(element.id);
      if (element.kind === 'source') return [];
      if (dc === undefined) return [element];
      return [{ kind: 'impedance', id: element.id, a: element.a, b: element.b, ohms: dc, reactance: 0, wire: false }];
    });
  }
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
