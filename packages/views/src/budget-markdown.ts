/** The budget as Markdown, for a pull request or a note: tables, no HTML. */

import type { Budget, BudgetRun, BudgetSupply } from '@ohmstead/record';
import { branchBasis, branchHeading, branchViews } from './budget-branches.js';
import {
  aboutWords,
  circuitViews,
  connected,
  type DeviceView,
  type ShownFinding,
  type WindingView,
  windingView,
  worstDrop,
} from './budget-view.js';
import { cell, length, none, size } from './figures.js';
import { code, sentence, table, text } from './markdown.js';
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

function winding(view: WindingView): string[] {
  const rows = view.states.map(({ state, figures, share, left }) =>
    figures.volts === null
      ? [
          text(`${stateLabel(state)}: ${figures.reason ? `no figures: ${figures.reason}` : 'no figures'}`),
          none,
          none,
          none,
          none,
          none,
        ]
      : [
          text(stateLabel(state)),
          size(figures.volts, 1),
          size(figures.amps, 2),
          cell(figures.va, 1),
          cell(share === null ? null : share * 100, 0),
          cell(left, 1),
        ],
  );
  const worst = view.worstWords === '' ? '' : `  \n${text(upperFirst(view.worstWords))}.`;
  return [
    `${text(view.between)}: ${text(view.rating)}`,
    `**${text(view.leftWords)}**${worst}`,
    ...(rows.length > 0 ? [table(['When', 'Volts', 'Amps', 'VA', 'Share %', 'VA left'], rows)] : []),
  ];
}

function supply(budget: Budget, part: BudgetSupply): string[] {
  const feeds = connected(budget, part).map(
    ({ name, asks }) => `${code(name)}${asks === '' ? '' : ` (${text(asks)})`}`,
  );
  return [
    `### ${code(part.name)}, ${text(aboutWords(part))}`,
    ...part.windings.flatMap((each) => winding(windingView(each))),
    feeds.length > 0 ? `Connected: ${feeds.join(', ')}.` : 'Nothing is connected to it.',
  ];
}

function deviceRows({ device, about, label, elements }: DeviceView): string[][] {
  const head = `${code(device.name)}, ${text(about)}${label === '' ? '' : `; ${text(label)}`}`;
  if (elements.length === 0) return [[head, none, 'no wired circuit in it', none]];
  return elements.map((each, index) => [
    index === 0 ? head : '',
    text(each.what),
    text(each.words),
    each.extremes === '' ? none : text(each.extremes),
  ]);
}

function run(each: BudgetRun, budget: Budget): string[] {
  const head = `### ${code(each.name)}, ${text(each.cable)}, ${length(each.lengthMetres, budget.profile)}`;
  if (each.conductors.length === 0) return [head, 'No conductor of it carries anything.'];
  const rows = each.conductors.map((conductor) => {
    const worst = worstDrop(conductor);
    return [
      text(conductor.colour),
      text(`${conductor.from} to ${conductor.to}`),
      worst === null ? none : text(stateWords(worst)),
      cell(conductor.ohms, 2),
      size(worst?.dropVolts, 2),
    ];
  });
  return [head, table(['Conductor', 'Ends', 'Most lost', 'Ohms', 'V lost'], rows, 3)];
}

function finding(each: ShownFinding): string {
  const accepted = acceptedWords(each.accepted);
  const words = `- **${severityWords[each.severity]}**: ${sentence(each.message)} (${code(each.code)})`;
  return accepted === '' ? words : `${words} ${text(accepted)}.`;
}

function branches(budget: Budget): string[] {
  const views = branchViews(budget);
  if (views.length === 0) return [];
  return [
    `## ${branchHeading(budget)}`,
    ...views.flatMap(({ branch, about, headline, rows, counting }) => [
      `### ${code(branch.name)}, ${text(about)}`,
      `**${text(upperFirst(headline))}**${counting === '' ? '' : `  \n${text(upperFirst(counting))}`}`,
      ...(rows.length > 0
        ? [
            table(
              ['What', 'VA', 'Amps'],
              rows.map(([what, va, drawn]) => [text(what), va, drawn]),
            ),
          ]
        : []),
    ]),
    branchBasis,
  ];
}

/** Ends in a line end. */
export function budgetMarkdown(budget: Budget, findings: readonly ShownFinding[] = budget.findings): string {
  const circuits = circuitViews(budget);
  const several = circuits.length > 1;
  const blocks = [
    `# ${text(titleWords(budget))}`,
    `Load budget, ${text(profileWords(budget.profile))}. ${countWords(findings)}.`,
    ...(circuits.length === 0 ? ['No supply or device is recorded yet.'] : []),
    ...circuits.flatMap((circuit) => {
      const names = circuit.supplies.map(({ name }) => name);
      const unfed = circuit.key === '' ? 'Not on any circuit' : 'No supply feeds these';
      const title = several ? `Circuit of ${text(listed(names))}` : 'Supply';
      const devices = circuit.devices.flatMap(deviceRows);
      return [
        `## ${names.length === 0 ? unfed : title}`,
        ...circuit.supplies.flatMap((part) => supply(budget, part)),
        ...(devices.length > 0
          ? [table(['Device', 'Element', 'Volts against its band', 'Over all conditions'], devices, 4)]
          : []),
      ];
    }),
    ...branches(budget),
    ...(budget.runs.length > 0 ? ['## Wire', ...budget.runs.flatMap((each) => run(each, budget))] : []),
    ...(findings.length > 0 ? ['## Findings', worstFirst(findings).map(finding).join('\n')] : []),
    '## Assumed',
    budget.assumptions.map((each) => `- ${sentence(each)}`).join('\n') || 'Nothing beyond what the record states.',
    shareWords,
    basisWords,
    budgetCautions(budget),
  ];
  return `${blocks.join('\n\n')}\n`;
}
