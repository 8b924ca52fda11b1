/**
 * A house as it really is, with at most one thing wrong, and a meter that is off. Every answer is a solution of its whole network; nothing here
 * is shared with the fault finder.
 */

import { type CircuitElement, ohmsBetween } from '../../packages/circuit/src/index.js';
import { type Asked, type MeterPoint, pointOf, type Reading, type Sign } from '../../packages/record/src/index.js';
import { HiddenNetwork, type Sounder } from './hidden-network.js';

const METER = { share: 0.02, volts: 0.2, ohms: 0.3, input: 1e7 };
const OVER_RANGE = 2e7;

export class HiddenHouse extends HiddenNetwork {
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

  private pulls({ id, ringsFrom }: Sounder, pressed: readonly string[], bridged: readonly string[]): boolean {
    return this.isOn(id, pressed, bridged) && this.across(id, pressed, bridged) >= ringsFrom;
  }
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
