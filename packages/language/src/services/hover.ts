/** What a hover says about the thing at the cursor: the names of now, with the figures of the last finished check. */

import {
  budgetBranches,
  budgetDevice,
  budgetRun,
  budgetSupply,
  checkSummaries,
  isBranchCircuit,
  loadWords,
  type PartType,
  pointOf,
  type StateKey,
  stateWords,
} from '@ohmstead/record';
import type { NameUse } from '../lower/names.js';
import { type Stretch, textOf } from '../lower/sites.js';
import type { CheckedRecord } from '../pipeline.js';
import type { Reading } from '../read.js';
import type { TextRange } from '../reading/document.js';
import { placeHover, pointHover, typeHover } from './hover-names.js';
import { branchHover, conductorHover, deviceHover, runHover, supplyHover } from './hover-parts.js';
import { readingAt, readingHover } from './readings-at.js';
import { type Pointed, pointedAt } from './statement-at.js';
import { cableWords } from './words.js';

export interface HoverText {
  readonly markdown: string;
  readonly range: TextRange;
}

/** `pageOf` gives the page of a check, where it is at hand. */
export function hoverAt(
  reading: Reading,
  checked: CheckedRecord | undefined,
  offset: number,
  pageOf: (code: string) => string | undefined,
): HoverText | undefined {
  const { document } = reading;
  const use = reading.names.at(document, offset);
  const text = (markdown: string | undefined, stretch: Stretch): HoverText | undefined =>
    markdown === undefined ? undefined : { markdown, range: document.rangeAt(stretch.offset, stretch.end) };
  const place = readingAt(reading, offset);
  const read = place && readingHover(reading, checked, place);
  if (use) {
    const named = nameHover(reading, checked, use) ?? goneHover(reading, use);
    return text(read === undefined ? named : [read, ...(named === undefined ? [] : [named])].join('\n\n---\n\n'), use);
  }
  if (place) return text(read, place.stretch);
  const pointed = pointedAt(document, offset);
  return pointed && text(pointedHover(reading, checked, pointed, pageOf), pointed.stretch);
}

/** Before all files of a record have come nothing can be said of what is at the cursor, if there is anything. */
export function hoverBefore({ document, names }: Reading, offset: number): HoverText | undefined {
  const stretch = names.at(document, offset) ?? pointedAt(document, offset)?.stretch;
  const markdown = 'What this record imports is still being read.';
  return stretch && { markdown, range: document.rangeAt(stretch.offset, stretch.end) };
}

function stateWordsOf(checked: CheckedRecord | undefined): (state: StateKey) => string {
  return (state) => (checked ? stateWords(checked.analysis, state.closed) + loadWords(state) : '');
}

function nameHover(reading: Reading, checked: CheckedRecord | undefined, use: NameUse): string | undefined {
  const { installation } = reading;
  const { kind, name } = use.symbol;
  // The figures of the part alone: those of the whole record would take too long while somebody waits.
  const analysis = checked?.analysis;
  const when = stateWordsOf(checked);
  switch (kind) {
    case 'supply': {
      const part = analysis?.parts.get(name);
      if (part?.kind !== 'supply') return undefined;
      const branch = isBranchCircuit(part) && budgetBranches(analysis!).find((one) => one.name === name);
      return branch ? branchHover(branch, part.type?.name) : supplyHover(budgetSupply(analysis!, part), when);
    }
    case 'device': {
      const part = analysis?.parts.get(name);
      if (part?.kind !== 'device') return undefined;
      return deviceHover(budgetDevice(analysis!, part), when, installation.partTypes.get(part.type?.name ?? '')?.words);
    }
    case 'run': {
      const run = analysis?.runs.get(name);
      return run && runHover(budgetRun(analysis!, run), installation.profile, when, run.cable);
    }
    case 'splice':
      return checked && pointHover(checked.analysis, name);
    case 'terminal':
      return terminalHover(reading, checked, use);
    case 'jumper': {
      const jumper = installation.jumpers.find((one) => one.name === name);
      return jumper && `**${name}** · ${jumper.kind} from \`${pointOf(jumper.from)}\` to \`${pointOf(jumper.to)}\``;
    }
    case 'place':
    case 'box': {
      const place = installation.places.find((one) => one.name === name);
      const standing = [...installation.supplies, ...installation.devices, ...installation.splices];
      return (
        place &&
        placeHover(
          place,
          [
            ...installation.places.filter((one) => one.within === name),
            ...standing.filter((one) => one.place === name),
          ].map((one) => one.name),
        )
      );
    }
    case 'supply type':
    case 'device type': {
      const type: PartType | undefined = installation.partTypes.get(name);
      return type && typeHover(type);
    }
    case 'cable type': {
      const cable = reading.cableTypes.get(name);
      return cable && `**${name}** · cable type${cable.words ? `: ${cable.words}` : ''}\n\n${cableWords(cable)}`;
    }
  }
}

/** Of a rewire plan: what it takes out or gives another name is only in the record underneath. */
function goneHover({ plan }: Reading, { symbol: { kind, name } }: NameUse): string | undefined {
  if (!plan) return undefined;
  const { supplies, devices, runs } = plan.base.installation;
  const part = [...supplies, ...devices].find((one) => one.name === name);
  const what = part?.type ?? runs.find((one) => one.name === name)?.cableWords;
  return what && `**${name}** · ${what}, ${kind} of the record that is changed; it is not in the circuit that results`;
}

/** In `hall-chime.trans` the point that is meant; in a type, the terminal itself. */
function terminalHover(reading: Reading, checked: CheckedRecord | undefined, use: NameUse): string | undefined {
  const node = use.site.node as { readonly part?: unknown };
  if (typeof node.part === 'string') return checked && pointHover(checked.analysis, `${node.part}.${use.symbol.name}`);
  const type = reading.installation.partTypes.get(use.symbol.owner ?? '');
  const terminal = type?.terminals.find((one) => one.name === use.symbol.name);
  return terminal && `**${terminal.name}**${terminal.words ? ` “${terminal.words}”` : ''} · terminal of ${type!.name}`;
}

function pointedHover(
  reading: Reading,
  checked: CheckedRecord | undefined,
  pointed: Pointed,
  pageOf: (code: string) => string | undefined,
): string | undefined {
  switch (pointed.kind) {
    case 'conductor': {
      const colour = textOf({ document: reading.document, node: pointed.conductor, property: 'colour' });
      const run = checked?.analysis.runs.get(pointed.run);
      if (!run) return undefined;
      // Of one that is landed nowhere, or at one end alone, there are no figures: what is said of it stands there.
      const written = textOf({ document: reading.document, node: pointed.conductor }).slice(colour.length).trim();
      const ends = written.replace(/\s+/g, ' ');
      const figures = conductorHover(budgetRun(checked!.analysis, run), colour, stateWordsOf(checked));
      return figures ?? `**${pointed.run}.${colour}** · ${run.run.cableWords}, ${ends}`;
    }
    case 'cable': {
      const run = reading.installation.runs.find((one) => one.name === pointed.run);
      return run?.cable && `**${run.cableWords}**\n\n${cableWords(run.cable)}`;
    }
    case 'code': {
      const summary = checkSummaries.get(pointed.code);
      return pageOf(pointed.code) ?? (summary && `**${summary.code}** · ${summary.title}`);
    }
    case 'import':
      return undefined;
  }
}
