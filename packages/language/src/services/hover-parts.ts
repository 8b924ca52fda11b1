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
  BudgetBranch,
  BudgetConductor,
  BudgetDevice,
  BudgetElement,
  BudgetRun,
  BudgetSupply,
  CableType,
  Extreme,
  StateKey,
} from '@ohmstead/record';
import { branchWords, circuitSize, computed, ratingWords, stated } from './words.js';

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
      winding.ratedVA === null ? undefined : stated(winding.ratedVA, 'VA', 1),
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
    if (winding.worst && winding.ratedVA !== null && winding.worst.va >= 0.005) {
      const { worst } = winding;
      parts.push(
        `Most: ${computed(worst.va, formatVoltAmperes)} of ${stated(winding.ratedVA, 'VA', 1)} ${when(worst)}.`,
      );
    }
  }
  if (supply.feeds.length > 0) parts.push(`Feeds ${supply.feeds.map((name) => `\`${name}\``).join(', ')}.`);
  return parts.join('\n\n');
}

/** Of the house's own circuit at its breaker: what it carries, and what of that is ours. */
export function branchHover(branch: BudgetBranch, type: string | undefined): string {
  const circuit = branch.circuit === null ? [] : [`Circuit ${branch.circuit}, ${stated(branch.volts, 'V')}.`];
  const feeds = branch.feeds.map(({ name, amps }) => `\`${name}\` (${formatAmps(amps)})`);
  const rest =
    branch.existingAmps === null ? '' : `, besides ${formatAmps(branch.existingAmps)} of what else is recorded`;
  const said = branchWords(branch);
  const isCounted = formatAmps(branch.countedAmps) !== formatAmps(branch.totalAmps);
  const counting = isCounted
    ? ` ${formatAmps(branch.continuousAmps)} of it is continuous and counts ${branch.continuousFactor} times.`
    : '';
  return [
    heading(branch.name, type, branch.place),
    ...circuit,
    `It ${said}.${counting}`,
    ...(feeds.length > 0 ? [`Feeds ${feeds.join(', ')}${rest}.`] : []),
  ].join('\n\n');
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
  return [...parts, ...marginsOf(device, element, when)];
}

/** Elements that are there to get their volts; of a contact or a resistor they say nothing of how it fares. */
const FED: ReadonlySet<string> = new Set(['coil', 'lamp', 'load']);

/** The least while it works and the most, at worst; and at nominal mains, at which it is judged, how far they stay inside of its band. */
function marginsOf({ band, role }: BudgetDevice, element: BudgetElement, when: StateWords): string[] {
  if (!FED.has(element.kind)) return [];
  // A coil rests at no volts, so its least says nothing: what counts is what it gets when it should ring.
  const least = element.leastWorking ?? (element.kind === 'coil' ? null : element.least);
  const most = element.most && element.most.volts > 0 ? element.most : null;
  const extremes = [
    least ? `least ${computed(least.volts, formatVolts)} ${extremeWords(least, when)}` : '',
    most ? `most ${computed(most.volts, formatVolts)} ${extremeWords(most, when)}` : '',
  ].filter((words) => words !== '');
  if (extremes.length === 0) return [];
  const nominal = (extreme: Extreme | null): number | null => {
    const same = element.solved.find(
      ({ closed, loads }) => closed.join() === extreme?.closed.join() && loads === extreme?.loads,
    );
    return same?.volts ?? null;
  };
  const [low, high] = [nominal(least), nominal(most)];
  const from = role === 'chime' && element.kind === 'coil' ? 'what it rings from' : 'the least';
  const margins = [
    low !== null && band.least !== null ? against(low - band.least, ['above', 'short of'], from, band.least) : '',
    high !== null && band.most !== null ? against(band.most - high, ['below', 'over'], 'the most', band.most) : '',
  ].filter((words) => words !== '');
  const said = extremes.join('; ');
  return [
    `${said[0]!.toUpperCase()}${said.slice(1)}.`,
    ...(margins.length > 0 ? [`Margin at nominal mains: ${margins.join('; ')}.`] : []),
  ];
}

function against(margin: number, [inside, beyond]: readonly [string, string], what: string, volts: number): string {
  return `${formatVolts(Math.abs(margin))} ${margin < 0 ? beyond : inside} ${what}, ${stated(volts, 'V', 1)}`;
}

function extremeWords(extreme: Extreme, when: StateWords): string {
  return `${conditionWords(extreme.corner)}, ${when(extreme)}`;
}

/** What the dearest conductor would lose with the same amps in the next two thicker sizes; empty where nothing is lost. */
function thickerWords(cable: CableType | undefined, drop: number): string {
  if (!cable?.size || drop < 0.05) return '';
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
