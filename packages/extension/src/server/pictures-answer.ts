/** The panel's pictures of a checked record. */

import type { CheckedRecord } from '@ohmstead/language/server';
import { type Analysis, analysisAt, type Budget, budgetAt } from '@ohmstead/record';
import { reachOf, reachSvg, reachTable, waySvg, waysTo, wayTable } from '@ohmstead/views';
import { sketchOf } from '@ohmstead/views/drawing';
import type { PicturesAnswer, PicturesAsk, Plot } from '../panel/pictures.js';

const noPlot: Plot = { subject: '', subjects: [], pictures: [] };
export const noPictures: PicturesAnswer = { sketch: null, budget: null, along: noPlot, howFar: noPlot };

/** More subjects than this are not worth a list: those near the cursor are offered. */
const MOST_TRIED = 12;
const inPage = { inPage: true };

export function picturesAnswer(record: CheckedRecord, ask: PicturesAsk): PicturesAnswer {
  const { analysis, findings } = record;
  const { shown, values, circuitOf, near } = ask;
  const chosen = values.mainsVolts !== undefined || values.wireCelsius !== undefined;
  const at = chosen ? analysisAt(analysis, values) : analysis;
  const budgetOfStates = chosen ? budgetAt(record.budget(), at) : record.budget();
  return {
    sketch: sketchOf(at, {
      shown,
      findings,
      ...(circuitOf !== undefined && hasName(analysis, circuitOf) && { circuitOf }),
      ...(near[0] !== undefined && { near: near[0] }),
    }),
    budget: chosen ? budgetOfStates : null,
    along: alongPlot(at, ask),
    howFar: howFarPlot(at, budgetOfStates, ask),
  };
}

function hasName({ circuits }: Analysis, name: string): boolean {
  return circuits.some(({ supplies, devices }) => supplies.includes(name) || devices.includes(name));
}

/** Several ways, such as those of two coils, stand under one another. */
function alongPlot(analysis: Analysis, { along, near }: PicturesAsk): Plot {
  const { profile, devices } = analysis.installation;
  const takers = devices.map(({ name }) => name).filter((name) => isFed(analysis, name));
  return firstPlot(takers, along, near, (device) =>
    waysTo(analysis, device).map((way) => ({ svg: waySvg(way, profile, inPage), table: wayTable(way, profile) })),
  );
}

function isFed({ parts }: Analysis, name: string): boolean {
  const taking = new Set(['coil', 'load', 'lamp', 'resistor', 'impedance']);
  return parts.get(name)?.elements.some(({ element }) => taking.has(element.kind)) === true;
}

function howFarPlot(analysis: Analysis, budget: Budget, { howFar, near }: PicturesAsk): Plot {
  const { profile } = analysis.installation;
  const runs = budget.runs.filter(({ conductors }) => conductors.length > 0).map(({ name }) => name);
  return firstPlot(runs, howFar, near, (run) => {
    const reach = reachOf(analysis, budget, run);
    return reach === undefined ? [] : [{ svg: reachSvg(reach, profile, inPage), table: reachTable(reach, profile) }];
  });
}

/** Of the one that was chosen; else of the first that has anything to show, those near the cursor before the others. */
function firstPlot(
  subjects: readonly string[],
  chosen: string | undefined,
  near: readonly string[],
  make: (subject: string) => Plot['pictures'],
): Plot {
  const wanted = chosen !== undefined && subjects.includes(chosen) ? [chosen] : [];
  const order = wanted.length > 0 ? wanted : [...near.filter((name) => subjects.includes(name)), ...subjects];
  for (const subject of order.slice(0, MOST_TRIED)) {
    const pictures = make(subject);
    if (pictures.length > 0) return { subject, subjects, pictures };
  }
  return { subject: wanted[0] ?? '', subjects, pictures: [] };
}
