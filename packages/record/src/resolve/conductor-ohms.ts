/** The ohms of one conductor of a run at each corner of temperature. */

import {
  CONDUCTOR_TEMPERATURE,
  type Conductor,
  maximumOhmsPerMetre,
  ohmsPerMetre,
  resistanceAtTemperature,
  type ConductorSize as SizeOfConductor,
} from '@ohmstead/circuit';
import type { CableType, ConductorSize } from '../model.js';

export type CornerOhms = Readonly<Record<'nominal' | 'low' | 'high', number>>;

/** From length and cable; `temperatures` are those stated for the places at its ends. `undefined` where the cable's size is not known. */
export function conductorOhms(
  cable: CableType,
  metres: number,
  temperatures: readonly number[],
): CornerOhms | undefined {
  const conductor = conductorOf(cable);
  const at = temperaturesOf(temperatures);
  const nominal = ohmsPerMetre(conductor, at.nominal);
  const low = maximumOhmsPerMetre(conductor, at.low);
  const high = ohmsPerMetre(conductor, at.high);
  if (nominal === undefined || low === undefined || high === undefined || !(metres >= 0)) return undefined;
  return { nominal: nominal * metres, low: low * metres, high: high * metres };
}

/** From ohms out and back, measured at the nominal temperature: each conductor has half of them. */
export function loopConductorOhms(loopOhms: number, temperatures: readonly number[]): CornerOhms {
  const half = loopOhms / 2;
  const at = temperaturesOf(temperatures);
  const taken = (temperature: number): number => resistanceAtTemperature(half, at.nominal, temperature);
  return { nominal: half, low: taken(at.low), high: taken(at.high) };
}

/** A run between places of stated temperatures has the warmest for its low volts, the coolest for its high volts, their mean as nominal. */
export function temperaturesOf(stated: readonly number[]): Readonly<Record<'nominal' | 'low' | 'high', number>> {
  if (stated.length === 0) return CONDUCTOR_TEMPERATURE;
  return {
    nominal: stated.reduce((sum, temperature) => sum + temperature, 0) / stated.length,
    low: Math.max(...stated),
    high: Math.min(...stated),
  };
}

function conductorOf(cable: CableType): Conductor {
  return {
    size: sizeOf(cable.size),
    stranded: cable.stranded,
    material: cable.material,
    resistancePerKm20: cable.ohmsPerMetre === undefined ? undefined : cable.ohmsPerMetre * 1000,
  };
}

/** A cable without a size has no area, hence no ohms but those that it states. */
function sizeOf(size: ConductorSize | undefined): SizeOfConductor {
  switch (size?.kind) {
    case 'awg':
      return { awg: size.awg };
    case 'diameter':
      return { diameterMm: size.mm };
    default:
      return { mm2: size?.mm2 ?? 0 };
  }
}
