/** The budget for a terminal: plain characters in columns, never wider than 100. */

import type { Budget, BudgetRun, BudgetSupply, Severity } from '@ohmstead/record';
import { branchBasis, branchHeading, branchViews } from './budget-branches.js';
import {
  aboutWords,
  type CircuitView,
  circuitViews,
  connected,
  type DeviceView,
  type ElementView,
  gaugeScale,
  type ShownFinding,
  type WindingView,
  windingView,
  worstDrop,
} from './budget-view.js';
import { cell, length, size } from './figures.js';
import { oneLine, wrapped } from './plain.js';
import {
  acceptedWords,
  basisWords,
  budgetCautions,
  countWords,
  listed,
  profileWords,
  severityWords,
  shareWords,
  stateLabel,
  stateWords,
  titleWords,
  upperFirst,
  worstFirst,
} from './words.js';

export interface TextChoice {
  readonly findings?: readonly ShownFinding[];
  /** With a terminal's colour codes; without it the text is plain. */
  readonly colour?: boolean;
}

const wide = 100;
const barWide = 60;

interface Ink {
  bold(text: string): string;
  severity(severity: Severity, text: string): string;
}

const plainInk: Ink = { bold: (text) => text, severity: (_severity, text) => text };

const codes: Record<Severity, number> = { error: 31, warning: 33, info: 36, hint: 36 };
const colourInk: Ink = {
  bold: (text) => `\u001b[1m${text}\u001b[22m`,
  severity: (severity, text) => `\u001b[${codes[severity]}m${text}\u001b[39m`,
};

function indented(text: string, by: number, following = by): string[] {
  if (text === '') return [];
  const lines = wrapped(text, wide - Math.max(by, following));
  return lines.map((line, index) => ' '.repeat(index === 0 ? by : following) + line);
}

type Row = readonly string[];

/** Columns two apart: the first to the left and wrapped where it must be, the others to the right. */
function table(head: Row, rows: readonly Row[], indent: number): string[] {
  const columns = head.map((_, column) => Math.max(...[head, ...rows].map((row) => (row[column] ?? '').length)));
  const others = columns.slice(1).reduce((sum, column) => sum + column + 2, 0);
  const first = Math.max(12, Math.min(columns[0] ?? 0, wide - indent - others));
  return [head, ...rows].flatMap(([label = '', ...cells]) => {
    const lines = wrapped(label, first);
    const figures = cells.map((each, index) => `  ${each.padStart(columns[index + 1] ?? 0)}`).join('');
    return lines.map((line, index) => {
      const text = index === 0 ? line.padEnd(first) + figures : line;
      return ' '.repeat(indent) + text.trimEnd();
    });
  });
}

function heading(name: string, about: string, ink: Ink): string[] {
  const [first = '', ...rest] = indented(`${oneLine(name)}  ${about}`, 0, 2);
  const shown = oneLine(name);
  return [first.startsWith(shown) ? ink.bold(shown) + first.slice(shown.length).replace(/^ /, '  ') : first, ...rest];
}

/** How much of the rating is drawn at worst: `[########|----]`, the stroke at the rating where it is passed. */
function loadBar({ worstShare }: WindingView): string[] {
  if (worstShare === null) return [];
  const whole = Math.max(1, worstShare);
  const drawn = Math.round((worstShare / whole) * barWide);
  const rated = Math.round(barWide / whole);
  const filled = '#'.repeat(drawn).padEnd(barWide, '.');
  return [`  [${rated < barWide ? `${filled.slice(0, rated)}|${filled.slice(rated)}` : filled}]`];
}

function winding(view: WindingView, several: boolean, ink: Ink): string[] {
  const rows = view.states.map(({ state, figures, share, left }) =>
    figures.volts === null
      ? [`${stateLabel(state)}: ${figures.reason ? `no figures: ${figures.reason}` : 'no figures'}`]
      : [
          stateLabel(state),
          size(figures.volts, 1),
          size(figures.amps, 2),
          cell(figures.va, 1),
          cell(share === null ? null : share * 100, 0),
          cell(left, 1),
        ],
  );
  return [
    ...indented(several ? `${view.between}:` : '', 2),
    ...indented(view.leftWords, 2).map(ink.bold),
    ...indented(upperFirst(view.worstWords), 2),
    ...loadBar(view),
    ...indented(view.rating, 2),
    ...(rows.length > 0 ? table(['When', 'Volts', 'Amps', 'VA', 'Share %', 'VA left'], rows, 2) : []),
  ];
}

function supply(budget: Budget, part: BudgetSupply, ink: Ink): string[] {
  const feeds = connected(budget, part).map(({ name, asks }) => (asks === '' ? name : `${name} (${asks})`));
  return [
    ...heading(part.name, aboutWords(part), ink),
    ...part.windings.flatMap((each) => winding(windingView(each), part.windings.length > 1, ink)),
    ...indented(feeds.length > 0 ? `Connected: ${feeds.join(', ')}.` : 'Nothing is connected to it.', 2, 4),
  ];
}

/** Volts from 0 to the circuit's scale: `---[====|===]---`, the band in brackets, what is seen as `=`, or `o` where that is one point. */
function gauge({ device }: DeviceView, { nominal }: ElementView, scale: number): string[] {
  const { least, most } = device.band;
  if (nominal === null || (least === null && most === null)) return [];
  const at = (volts: number) => Math.min(barWide - 1, Math.round((volts / scale) * barWide));
  const line: string[] = Array.from({ length: barWide }, (_, place) =>
    place >= at(nominal.least) && place <= at(nominal.most) ? '=' : '-',
  );
  if (least !== null) line[at(least)] = '[';
  if (most !== null) line[at(most)] = ']';
  if (at(nominal.least) === at(nominal.most)) line[at(nominal.most)] = 'o';
  return [`    0 ${line.join('')} ${Math.round(scale)} V`];
}

function device(view: DeviceView, scale: number, ink: Ink): string[] {
  const elements = view.elements.flatMap((each) => {
    const more = each.extremes === '' ? '' : upperFirst(`${each.extremes}; ${each.current}.`);
    return [...indented(`${each.what}: ${each.words}`, 2, 4), ...gauge(view, each, scale), ...indented(more, 4)];
  });
  return [
    ...heading(view.device.name, view.about, ink),
    ...indented(upperFirst(view.label), 2),
    ...(elements.length > 0 ? elements : ['  No wired circuit in it: nothing to compute.']),
  ];
}

function run(each: BudgetRun, budget: Budget, ink: Ink): string[] {
  const rows = each.conductors.map((conductor) => {
    const worst = worstDrop(conductor);
    const when = worst !== null && worst.dropVolts >= 0.005 ? `, most ${stateWords(worst)}` : '';
    return [
      `${conductor.colour}: ${conductor.from} to ${conductor.to}${when}`,
      cell(conductor.ohms, 2),
      size(worst?.dropVolts, 2),
    ];
  });
  return [
    ...heading(each.name, `${each.cable}, ${length(each.lengthMetres, budget.profile)}`, ink),
    ...(rows.length > 0
      ? table(['Conductor', 'Ohms', 'Most V lost'], rows, 2)
      : ['  No conductor of it carries anything.']),
  ];
}

function finding(each: ShownFinding, ink: Ink): string[] {
  const accepted = acceptedWords(each.accepted);
  const word = severityWords[each.severity];
  const text = `${word}: ${each.message} (${each.code})${accepted === '' ? '' : ` ${accepted}.`}`;
  const [first = '', ...rest] = indented(text, 0, 2);
  return [ink.severity(each.severity, word) + first.slice(word.length), ...rest];
}

function circuit(budget: Budget, view: CircuitView, several: boolean, ink: Ink): string[][] {
  const names = view.supplies.map(({ name }) => name);
  const unfed = view.key === '' ? 'NOT ON ANY CIRCUIT' : 'NO SUPPLY FEEDS THESE';
  const title = names.length === 0 ? unfed : several ? `CIRCUIT OF ${oneLine(listed(names))}` : '';
  const scale = gaugeScale(view);
  return [
    ...(title === '' ? [] : [indented(title, 0).map(ink.bold)]),
    ...(names.length > 0 ? [[ink.bold('SUPPLY')], ...view.supplies.map((part) => supply(budget, part, ink))] : []),
    ...(view.devices.length > 0
      ? [[ink.bold('DEVICES')], ...view.devices.map((part) => device(part, scale, ink))]
      : []),
  ];
}

function branches(budget: Budget, ink: Ink): string[][] {
  const views = branchViews(budget);
  if (views.length === 0) return [];
  return [
    [ink.bold(branchHeading(budget).toUpperCase())],
    ...views.map(({ branch, about, headline, rows, counting }) => [
      ...heading(branch.name, about, ink),
      ...indented(upperFirst(headline), 2).map(ink.bold),
      ...(rows.length > 0
        ? table(
            ['What', 'VA', 'Amps'],
            rows.map((row) => [...row]),
            2,
          )
        : []),
      ...indented(upperFirst(counting), 2),
      ...indented(branchBasis, 2),
    ]),
  ];
}

/** Ends in a line end. */
export function budgetText(budget: Budget, choice: TextChoice = {}): string {
  const ink = choice.colour === true ? colourInk : plainInk;
  const shown: readonly ShownFinding[] = choice.findings ?? budget.findings;
  const findings = worstFirst(shown);
  const circuits = circuitViews(budget);
  const none = circuits.length === 0 ? [['No supply or device is recorded yet.']] : [];
  const assumed = budget.assumptions.flatMap((each) => indented(`- ${each}`, 2, 4));
  const blocks: string[][] = [
    [
      ...indented(titleWords(budget), 0).map(ink.bold),
      ...indented(`Load budget, ${profileWords(budget.profile)}. ${countWords(findings)}.`, 0),
    ],
    ...none,
    ...circuits.flatMap((view) => circuit(budget, view, circuits.length > 1, ink)),
    ...branches(budget, ink),
    ...(budget.runs.length > 0 ? [[ink.bold('WIRE')], ...budget.runs.map((each) => run(each, budget, ink))] : []),
    ...(findings.length > 0 ? [[ink.bold('FINDINGS'), ...findings.flatMap((each) => finding(each, ink))]] : []),
    [ink.bold('ASSUMED'), ...(assumed.length > 0 ? assumed : ['  Nothing beyond what the record states.'])],
    [...indented(shareWords, 0), ...indented(basisWords, 0), ...indented(budgetCautions(budget), 0)],
  ];
  return `${blocks.map((block) => block.join('\n')).join('\n\n')}\n`;
}
