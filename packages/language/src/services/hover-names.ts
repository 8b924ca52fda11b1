/** Hover texts of terminals, splices, types, places and the codes that `accept` names, in Markdown. */

import type { Analysis, Landed, PartElement, PartType, Place, Terminal } from '@ohmstead/record';
import { typeRating } from './words.js';

/** Everything joined to a terminal or splice: what is landed on it, and what those joints take along. */
export function pointHover(analysis: Analysis, point: string): string {
  const cut = point.indexOf('.');
  const part = cut < 0 ? undefined : analysis.parts.get(point.slice(0, cut));
  const terminal = part?.terminals.find((one) => one.name === point.slice(cut + 1));
  const title = `**${point}**${terminal?.words ? ` “${terminal.words}”` : ''}${part?.type ? ` · ${part.type.name}` : ''}`;
  const landed = analysis.landedOn(point).map((one) => `- ${landedWords(analysis, one)}`);
  const joined = joinedTo(analysis, point).map((name) => `\`${name}\``);
  const parts = [title];
  parts.push(landed.length === 0 ? 'Nothing is landed here.' : landed.join('\n'));
  if (joined.length > 0) parts.push(`Joined to ${joined.join(', ')}.`);
  return parts.join('\n\n');
}

/** Other terminals and splices at the same potential always. */
function joinedTo(analysis: Analysis, point: string): string[] {
  const network = analysis.network('nominal');
  const net = network.netOf(point);
  if (net === undefined) return [];
  const points = network.circuitOf(point)?.points ?? [];
  return points.filter((other) => other !== point && network.netOf(other) === net).sort();
}

function landedWords(analysis: Analysis, landed: Landed): string {
  if (landed.kind === 'lead') return `own lead \`${landed.part}.${landed.terminal}\``;
  if (landed.kind === 'jumper') {
    const jumper = analysis.jumpers.get(landed.jumper);
    const other = landed.end === 'from' ? jumper?.to : jumper?.from;
    const name = jumper?.named ? ` \`${jumper.name}\`` : '';
    return `${jumper?.kind ?? 'jumper'}${name}${other ? ` to \`${endWords(other)}\`` : ''}`;
  }
  const conductor = analysis.runs.get(landed.run)?.conductors[landed.index];
  const other = landed.end === 'from' ? conductor?.to : conductor?.from;
  return `${landed.colour} of \`${landed.run}\`${other ? `, to \`${endWords(other)}\`` : ''}`;
}

function endWords(end: { readonly part: string; readonly terminal?: string }): string {
  return end.terminal === undefined ? end.part : `${end.part}.${end.terminal}`;
}

export function typeHover(type: PartType): string {
  const rating = typeRating(type);
  const parts = [`**${type.name}** · ${type.of} type${type.words ? `: ${type.words}` : ''}`];
  if (rating !== '') parts.push(type.of === 'supply' ? `Output ${rating}.` : `Rating ${rating}.`);
  if (type.terminals.length > 0) parts.push(`Terminals ${type.terminals.map(terminalWords).join(', ')}.`);
  if (type.elements.length > 0) parts.push(type.elements.map((element) => `- ${elementWords(element)}`).join('\n'));
  return parts.join('\n\n');
}

function terminalWords(terminal: Terminal): string {
  const marks = [
    terminal.words ? `“${terminal.words}”` : '',
    terminal.lineSide ?? '',
    terminal.optional ? 'optional' : '',
  ];
  const words = marks.filter((mark) => mark !== '').join(', ');
  return `\`${terminal.name}\`${words === '' ? '' : ` (${words})`}`;
}

function elementWords(element: PartElement): string {
  const name = element.kind === 'contact' && element.name ? ` ${element.name}` : '';
  return `${element.kind}${name} from \`${element.a}\` to \`${element.b}\``;
}

export function placeHover(place: Place, standing: readonly string[]): string {
  const traits = [place.outdoor ? 'outdoor' : '', place.wet ? 'wet' : '', place.concealed ? 'concealed' : ''];
  const says = traits.filter((trait) => trait !== '').join(', ');
  const title = `**${place.name}**${place.words ? ` “${place.words}”` : ''}${place.within ? ` in ${place.within}` : ''}`;
  const parts = [says === '' ? title : `${title} · ${says}`];
  parts.push(
    standing.length === 0 ? 'Nothing stands here.' : `Here: ${standing.map((name) => `\`${name}\``).join(', ')}.`,
  );
  return parts.join('\n\n');
}
