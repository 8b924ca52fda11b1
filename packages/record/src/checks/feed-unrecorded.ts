import { piecesOf } from '../analyse/analyse.js';
import { keptWith, keptWithAll } from '../analyse/lazily.js';
import type { Analysis, ResolvedPart } from '../analysis-types.js';
import { isEmpty } from '../judging/feeding.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { compare } from '../resolve/parts.js';
import { defineCheck, type Report } from './types.js';

export const feedUnrecorded = defineCheck({
  code: 'feed-unrecorded',
  severity: 'hint',
  title: 'No breaker or outlet is recorded for a supply',
  run(analysis, report) {
    const silent = piecesOf(analysis)
      .flatMap(silentSupplies)
      .sort((one, other) => compare(one.name, other.name));
    const told = unrecorded(silent, undefined);
    if (told !== undefined) report(told);
  },
});

const unrecorded = keptWithAll((silent: readonly ResolvedPart[]): Report => {
  const [first, ...others] = silent;
  const names = silent.map(({ name }) => name);
  const told =
    names.length > MOST_NAMED
      ? [...names.slice(0, MOST_NAMED - 1).map(quote), `${names.length - MOST_NAMED + 1} more`]
      : names.map(quote);
  return {
    path: at.part(first!.name),
    message: `Which breaker or outlet feeds ${listOf(told)} is not recorded, and whoever isolates ${others.length === 0 ? 'it' : 'them'} has to look for it. Say it in a note, as in \`note "Breaker 7"\`, or wire ${quote(`${first!.name}.${lineTerminal(first!)}`)} to its branch circuit.`,
    related: others
      .slice(0, MOST_RELATED)
      .map(({ name }) => ({ path: at.part(name), message: `nor for ${quote(name)}` })),
    parts: names,
  };
});

/** A street has hundreds of them, and a sentence room for a few. */
const MOST_NAMED = 6;
const MOST_RELATED = 20;

const silentSupplies = keptWith((piece: Analysis) =>
  [...piece.parts.values()].filter((part) => wantsItsFeedRecorded(piece, part)),
);

/** A supply wired to the mains, in a stated place: a record without places is of a circuit and not of a house. */
function wantsItsFeedRecorded(analysis: Analysis, part: ResolvedPart): boolean {
  if (part.kind !== 'supply' || part.place === undefined || analysis.installation.broken.has(part.name)) return false;
  // One that is plugged in is isolated by pulling it out.
  const live = part.terminals.filter(
    ({ lineSide, optional }) => !optional && (lineSide === 'hot' || lineSide === 'neutral'),
  );
  const hasPrimary = part.elements.some(({ element }) => element.kind === 'primary');
  if (!hasPrimary || live.length === 0) return false;
  return live.every(({ name }) => isEmpty(analysis, part.name, name)) && !saysItsFeed(part);
}

/** What people write down of a feed. */
const FEED_WORDS =
  /\b(breakers?|circuit|outlets?|receptacles?|sockets?|fuses?|fused|spur|mcb|rcbo|disconnect|isolator|consumer unit)\b/i;

function saysItsFeed({ facts }: ResolvedPart): boolean {
  return facts.circuit !== undefined || facts.notes.some((note) => FEED_WORDS.test(note));
}

function lineTerminal({ terminals }: ResolvedPart): string {
  return terminals.find(({ lineSide }) => lineSide === 'hot')?.name ?? 'line';
}
