/** Hover texts of supplies, devices and runs: their load budget as a small table, in Markdown. */

import {
  formatAmps,
  formatGauge,
  formatLength,
  formatOhms,
  formatShare,
  formatVoltAmperes,
  formatVolts,
  formatWatts,
  nextThicker,
  ohmsPerMetre,
} from '@ohmstead/circuit';
import { conditionWords } from '@ohmstead/record';
import type {
  BudgetConductor,
  BudgetDevice,
  BudgetElement,
  BudgetRun,
  BudgetSupply,
  CableType,
  Extreme,
  StateKey,
} from '@ohmstead/record';
import { circuitSize, computed, ratingWords, stated } from './words.js';

/** A state in words: "while `porch-button` is held". */
export type StateWords = (state: StateKey) => string;

/** More states than these are summed up: a hover is read at a glance. */
const MOST_ROWS = 8;

export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  const shown = rows.slice(0, MOST_ROWS);
  const more = rows.length > shown.length ? `\n\nand ${rows.length - shown.length} more combinations of buttons` : '';
  const rule = head.map((_, index) => (index === 0 ? ':--' : '--:'));
  return `${[line(head), line(rule), ...shown.map(line)].join('\n')}${more}`;
}

export function heading(name: string, type: string | null | undefined, place: string | null | undefined): string {
  return `**${name}**${type ? ` · ${type}` : ''}${place ? ` in ${place}` : ''}`;
}

export function supplyHover(supply: BudgetSupply, when: StateWords): string {
  const parts = [heading(supply.name, supply.type, supply.place)];
  for (const winding of supply.windings) {
    const label = [
      winding.ratedVolts === null ? undefined : stated(winding.ratedVolts, 'V'),
      winding.ratedVA === null ? undefined : stated(winding.ratedVA, 'VA'),
    ].filter((figure) => figure !== undefined);
    const open =
      winding.noLoadVolts === null ? '' : `, ${computed(winding.noLoadVolts, formatVolts)} with nothing connected`;
    const assumed = winding.assumed.length === 0 ? '' : ` (assumed: ${winding.assumed.join(', ')})`;
    parts.push(`${winding.from} to ${winding.to}: ${label.join(', ')}${open}${assumed}`);
    parts.push(
      table(
        ['', 'volts', 'amps', 'VA', 'of rating'],
        winding.solved.map((figures) => {
          const share = winding.ratedVA && figures.va !== null ? figures.va / winding.ratedVA : null;
          return [
            when(figures),
            figures.volts === null ? (figures.reason ?? '–') : computed(figures.volts, formatVolts),
            computed(figures.amps, formatAmps),
            computed(figures.va, formatVoltAmperes),
            computed(share, formatShare),
          ];
        }),
      ),
    );
    if (winding.worst && winding.ratedVA !== null) {
      const { worst } = winding;
      parts.push(`Most: ${computed(worst.va, formatVoltAmperes)} of ${stated(winding.ratedVA, 'VA')} ${when(worst)}.`);
    }
  }
  if (supply.feeds.length > 0) parts.push(`Feeds ${supply.feeds.map((name) => `\`${name}\``).join(', ')}.`);
  return parts.join('\n\n');
}

/** `words` are the type's own: "Wired video doorbell". */
export function deviceHover(device: BudgetDevice, when: StateWords, words?: string): string {
  const parts = [heading(device.name, device.type, device.place)];
  if (words !== undefined) parts.push(words);
  const rating = device.rating ? `Rating ${ratingWords(device.rating)}` : undefined;
  const needs = device.needsVA === null ? undefined : `wants a supply of ${stated(device.needsVA, 'VA')} or more`;
  const label = [rating, needs].filter((words) => words !== undefined);
  if (label.length > 0) parts.push(`${label.join('; ')}.`);
  for (const element of device.elements) parts.push(...elementHover(device, element, when));
  return parts.join('\n\n');
}

function elementHover(device: BudgetDevice, element: BudgetElement, when: StateWords): string[] {
  if (element.solved.length === 0) return [];
  const rows = element.solved.map((figures) => [
    when(figures),
    figures.volts === null ? (figures.reason ?? '–') : computed(figures.volts, formatVolts),
    computed(figures.amps, formatAmps),
    computed(figures.va, formatVoltAmperes),
  ]);
  const parts = [`${element.kind} ${element.from} to ${element.to}`, table(['', 'volts', 'amps', 'VA'], rows)];
  // A coil rests at no volts, so its least says nothing: what counts is what it gets when it should ring.
  const words = element.kind === 'coil' ? coilWords(device, element, when) : bandWords(device, element, when);
  return [...parts, ...words];
}

function bandWords(device: BudgetDevice, { least, most }: BudgetElement, when: StateWords): string[] {
  const extremes = [
    least ? `Least ${computed(least.volts, formatVolts)} ${extremeWords(least, when)}` : undefined,
    most ? `most ${computed(most.volts, formatVolts)} ${extremeWords(most, when)}` : undefined,
  ].filter((words) => words !== undefined);
  const margin = marginWords(device, least, most);
  return [...(extremes.length > 0 ? [`${extremes.join('; ')}.`] : []), ...(margin === '' ? [] : [margin])];
}

function coilWords({ band }: BudgetDevice, { solved }: BudgetElement, when: StateWords): string[] {
  const strongest = [...solved].sort((one, other) => (other.volts ?? 0) - (one.volts ?? 0))[0];
  if (!strongest?.volts || band.least === null) return [];
  const margin = strongest.volts - band.least;
  const most = `Most ${formatVolts(strongest.volts)} ${when(strongest)}`;
  return [
    `${most}: ${formatVolts(Math.abs(margin))} ${margin < 0 ? 'short of' : 'above'} the ${stated(band.least, 'V')} it rings from.`,
  ];
}

function extremeWords(extreme: Extreme, when: StateWords): string {
  return `${conditionWords(extreme.corner)}, ${when(extreme)}`;
}

/** How far the computed volts stay inside what the part is judged by. */
function marginWords(device: BudgetDevice, least: Extreme | null, most: Extreme | null): string {
  const words: string[] = [];
  const { band } = device;
  if (least && band.least !== null) {
    const margin = least.volts - band.least;
    words.push(
      `${computed(Math.abs(margin), formatVolts)} ${margin < 0 ? 'short of' : 'above'} the least, ${stated(band.least, 'V')}`,
    );
  }
  if (most && band.most !== null) {
    const margin = band.most - most.volts;
    words.push(
      `${computed(Math.abs(margin), formatVolts)} ${margin < 0 ? 'over' : 'below'} the most, ${stated(band.most, 'V')}`,
    );
  }
  return words.length === 0 ? '' : `Margin: ${words.join('; ')}.`;
}

/** What the dearest conductor would lose with the same amps in the next two thicker sizes; empty where nothing is lost. */
function thickerWords(cable: CableType | undefined, drop: number): string {
  if (!cable?.size || drop < 0.005) return '';
  const { stranded, material, ohmsPerMetre: stated } = cable;
  const size = circuitSize(cable.size);
  const now = stated ?? ohmsPerMetre({ size, stranded, material });
  const words: string[] = [];
  for (let next = nextThicker(size); next && words.length < 2; next = nextThicker(next)) {
    const then = ohmsPerMetre({ size: next, stranded, material });
    if (now && then) words.push(`${formatVolts((drop * then) / now)} in ${formatGauge(next)}`);
  }
  if (words.length === 0) return '';
  return `With the same amps it would lose ${words.join(' or ')}, in place of ${formatVolts(drop)}.`;
}

export function runHover(run: BudgetRun, profile: string, when: StateWords, cable?: CableType): string {
  const length =
    run.lengthMetres === null
      ? 'no length recorded'
      : formatLength(run.lengthMetres, profile === 'north-america' ? 'feet' : 'metres');
  const rows = run.conductors.map((conductor) => {
    const worst = worstOf(conductor);
    const amps = worst?.amps ?? null;
    const loss = amps === null || conductor.ohms === null ? null : amps * amps * conductor.ohms;
    return [
      `${conductor.colour}: ${conductor.from} to ${conductor.to}`,
      computed(conductor.ohms, formatOhms),
      computed(amps, formatAmps),
      computed(worst?.dropVolts, formatVolts),
      computed(loss, formatWatts),
      worst ? when(worst) : '',
    ];
  });
  const head = ['conductor', 'resistance', 'most amps', 'drop', 'loss', 'when'];
  const parts = [`**${run.name}** · ${run.cable}, ${length}`];
  if (rows.length > 0) parts.push(table(head, rows));
  const drops = run.conductors.map((conductor) => Math.abs(worstOf(conductor)?.dropVolts ?? 0));
  const thicker = thickerWords(cable, Math.max(0, ...drops));
  if (thicker !== '') parts.push(thicker);
  return parts.join('\n\n');
}

export function conductorHover(run: BudgetRun, colour: string, when: StateWords): string | undefined {
  const conductor = run.conductors.find((one) => one.colour === colour);
  if (!conductor) return undefined;
  const rows = conductor.solved.map((figures) => [
    when(figures),
    computed(figures.amps, formatAmps),
    computed(figures.dropVolts, formatVolts),
  ]);
  const parts = [
    `**${run.name}.${colour}** · ${run.cable}, ${conductor.from} to ${conductor.to}`,
    `Resistance ${computed(conductor.ohms, formatOhms)}.`,
  ];
  if (rows.length > 0) parts.push(table(['', 'amps', 'drop'], rows));
  return parts.join('\n\n');
}

function worstOf(conductor: BudgetConductor): BudgetConductor['solved'][number] | undefined {
  return [...conductor.solved].sort((one, other) => Math.abs(other.amps ?? 0) - Math.abs(one.amps ?? 0))[0];
}
