import { type Group, grouped, putUnder } from '../grouped.js';
import type { Analysis } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import { quote, quotedList } from '../judging/words.js';
import { type LineSide, lineSideOf } from '../line-side/line-side.js';
import { meetingOn } from '../line-side/meeting.js';
import { DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck, type ReportFinding } from './types.js';

export const lineMeetsLowVoltage = defineCheck({
  code: 'line-meets-low-voltage',
  severity: 'error',
  title: 'Low voltage is joined to line voltage, or in one cable with it',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    if (lineSide === undefined) return;
    tellOfNets(analysis, lineSide, report);
    tellOfRuns(analysis, lineSide, report);
  },
});

function tellOfNets(analysis: Analysis, lineSide: LineSide, report: ReportFinding): void {
  const points = [...analysis.parts.values()].flatMap((part) =>
    part.terminals
      .filter(({ lineSide: side }) => side === undefined)
      .map(({ name: terminal }) => ({ part: part.name, point: pointOf({ part: part.name, terminal }) })),
  );
  for (const [net, met] of grouped(points, ({ point }) => lineSide.netOf(point))) {
    if (!lineSide.isMixed(net) || lineSide.isHeld(net)) continue;
    const meeting = meetingOn(
      analysis,
      lineSide,
      net,
      met.map(({ point }) => point),
    );
    const marks = lineSide.marksOn(net).filter(({ side }) => side !== 'ground');
    const near = met.find(({ point }) => point === meeting?.a || point === meeting?.b) ?? met[0];
    const others = [...new Set([...met.map(({ part }) => part), ...marks.map(({ part }) => part.name)])];
    report({
      path: meeting?.path ?? at.part(near.part),
      message: `${quote(near.point)} is a low-voltage terminal and is joined to line voltage (${quotedList(marks.slice(0, 2).map((mark) => mark.point))}): whoever touches a button or a bell wire touches the mains. ${DEFERS}`,
      related: others
        .filter((name) => name !== near.part)
        .map((name) => ({ path: at.part(name), message: `${quote(name)} is joined to it` })),
      parts: [near.part, ...others.filter((name) => name !== near.part), ...(meeting ? [meeting.owner] : [])],
    });
  }
}

/** Runs that carry the same low voltage beside the mains are told together: one mend puts them right. */
function tellOfRuns(analysis: Analysis, lineSide: LineSide, report: ReportFinding): void {
  const byLowVoltage = new Map<string, Group<string>>();
  for (const { run } of analysis.runs.values()) {
    const nets = [...lineSide.runOf(run.name).nets];
    if (nets.some((net) => lineSide.isMixed(net) || lineSide.isHeld(net))) continue;
    if (!lineSide.carriesLine(run.name) || !lineSide.carriesLowVoltage(run.name)) continue;
    const low = nets
      .filter((net) => lineSide.isLowVoltage(net))
      .sort()
      .join(' ');
    putUnder(byLowVoltage, low, run.name);
  }
  for (const unsorted of byLowVoltage.values()) {
    const [first, ...others] = [...unsorted].sort();
    const carry =
      others.length === 0
        ? `${quote(first!)} carries line voltage and low voltage in one cable: where its`
        : `${quotedList([first!, ...others])} carry line voltage and low voltage in one cable: where their`;
    report({
      path: at.run(first!),
      message: `${carry} insulation fails, bell wire and push buttons are live. Run them apart. ${DEFERS}`,
      related: others.map((name) => ({ path: at.run(name), message: `${quote(name)} carries both as well` })),
      parts: [first!, ...others],
    });
  }
}
