import type { Analysis, ResolvedRun } from '../analysis-types.js';
import { quote, quotedList } from '../judging/words.js';
import { runsEntering } from '../line-side/box-contents.js';
import { type LineSide, lineSideOf } from '../line-side/line-side.js';
import { standsInPanel } from '../line-side/panel.js';
import { DEFERS, spacingWords } from '../line-side/words.js';
import type { Box } from '../model.js';
import { at } from '../place-in-record.js';
import { lineLimit } from '../regions/line-limits.js';
import { defineCheck, type ReportFinding } from './types.js';

export const separation = defineCheck({
  code: 'separation',
  severity: 'warning',
  title: 'Low-voltage wire is too near to line-voltage conductors',
  reach: 'cluster',
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    if (lineSide === undefined) return;
    tellOfRuns(analysis, lineSide, report);
    for (const box of lineSide.boxes) tellOfBox(analysis, lineSide, box, report);
  },
});

function tellOfRuns(analysis: Analysis, lineSide: LineSide, report: ReportFinding): void {
  const { profile, broken } = analysis.installation;
  const limit = lineLimit('separation', profile)!;
  for (const own of analysis.runs.values()) {
    (own.run.beside ?? []).forEach(({ run: name, metres }, index) => {
      const other = analysis.runs.get(name);
      if (other === undefined || broken.has(name) || broken.has(own.run.name)) return;
      const [low, line] = lineSide.carriesLine(own.run.name) ? [other, own] : [own, other];
      if (!isLineVoltage(lineSide, line) || lineSide.carriesLine(low.run.name)) return;
      if (metres >= limit.value - 1e-9 || isKeptApart(profile, low, line)) return;
      report({
        path: at.beside(own.run.name, index),
        message: `${quote(low.run.name)} lies ${spacingWords(metres, profile)} from ${quote(line.run.name)}, whose conductors are at line voltage and in no ${profile === 'north-america' ? 'sheathed cable and no raceway' : 'raceway'}: ${spacingWords(limit.value, profile)} is wanted (${limit.source}). ${DEFERS}`,
        related: [{ path: at.cable(line.run.name), message: 'the line-voltage conductors' }],
        parts: [low.run.name, line.run.name],
      });
    });
  }
}

/** By what it is wired to; one that is wired to nothing by its cable: line-voltage cable has a ground, or a single conductor. */
function isLineVoltage(lineSide: LineSide, { run, cable }: ResolvedRun): boolean {
  if (lineSide.carriesLine(run.name)) return true;
  return !lineSide.carriesLowVoltage(run.name) && (cable?.withGround === true || cable?.colours.length === 1);
}

/** No distance is asked for beside cable with a sheath (North America) and where either is drawn into a raceway. */
function isKeptApart(profile: string, low: ResolvedRun, line: ResolvedRun): boolean {
  if (low.run.raceway === true || line.run.raceway === true) return true;
  return profile === 'north-america' && isSheathed(line);
}

/** Cable of several conductors, not single ones side by side. */
function isSheathed({ cable }: ResolvedRun): boolean {
  if (cable === undefined || cable.colours.length < 2) return false;
  return !cable.listed.some((mark) => /^(THH?W?N?|THWN|XHHW|TW)/i.test(mark));
}

function tellOfBox(analysis: Analysis, lineSide: LineSide, box: Box, report: ReportFinding): void {
  const { broken, profile } = analysis.installation;
  if (box.barrier || broken.has(box.name)) return;
  const entering = runsEntering(analysis, lineSide, box).filter(({ run }) => !broken.has(run.name));
  const line = entering.filter(({ run }) => lineSide.carriesLine(run.name));
  const low = entering.filter(
    ({ run }) => lineSide.carriesLowVoltage(run.name) && !lineSide.carriesLine(run.name) && !run.raceway,
  );
  if (line.length === 0 || low.length === 0) return;
  const inside = [...analysis.parts.values()].filter(({ place }) => lineSide.boxAround(place?.name) === box);
  const supplies = inside.filter(({ kind }) => kind === 'supply');
  // A transformer in the panel is told of by itself.
  if (supplies.some((part) => standsInPanel(lineSide, part))) return;
  if (profile === 'north-america' && line.length === 1 && supplies.length > 0) return;
  report({
    path: at.place(box.name),
    message: `${quotedList(low.map(({ run }) => run.name))} ${low.length === 1 ? 'shares' : 'share'} ${quote(box.name)} with line-voltage conductors (${quotedList(line.map(({ run }) => run.name))}) and there is no barrier between them. Take the low-voltage wire out of the box, or put a barrier in. ${DEFERS}`,
    related: low.map(({ run }) => ({ path: at.run(run.name), message: 'the low-voltage wire' })),
    parts: [box.name, ...low.map(({ run }) => run.name)],
  });
}
