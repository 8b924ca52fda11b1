/** Materials: every part, cable and small thing that the record has, counted. */

import type { Analysis, ResolvedPart, Splice } from '@ohmstead/record';
import { length, none, stated, statedRange } from '../figures.js';
import { conductorEnds, pointOfEnd } from './landings.js';
import { type Allowance, cutList, usualAllowance } from './cut-list.js';
import { type Cell, type Paper, type Table, write } from './paper.js';
import { gaugeWords, tradeWords } from './trade-words.js';
import { upperFirst } from '../words.js';

export interface Material {
  readonly kind: 'supply' | 'device' | 'cable' | 'small';
  readonly what: string;
  readonly detail: string;
  readonly quantity: string;
  /** Names in the record that it is for. */
  readonly of: readonly string[];
}

export function materials(analysis: Analysis, allowance: Allowance = usualAllowance): Material[] {
  return [...partMaterials(analysis), ...cableMaterials(analysis, allowance), ...smallMaterials(analysis)];
}

function counted(
  kind: Material['kind'],
  things: readonly { what: string; detail: string; name: string }[],
): Material[] {
  const groups = new Map<string, { what: string; detail: string; of: string[] }>();
  for (const { what, detail, name } of things) {
    const key = JSON.stringify([what, detail]);
    const group = groups.get(key) ?? { what, detail, of: [] };
    group.of.push(name);
    groups.set(key, group);
  }
  return [...groups.values()].map(({ what, detail, of }) => ({ kind, what, detail, quantity: String(of.length), of }));
}

function partMaterials(analysis: Analysis): Material[] {
  const parts = [...analysis.parts.values()];
  return (['supply', 'device'] as const).flatMap((kind) =>
    counted(
      kind,
      parts
        .filter((part) => part.kind === kind)
        .map((part) => ({
          name: part.name,
          what: part.type?.words ?? part.type?.name ?? 'unknown type',
          detail: ratingWords(part),
        })),
    ),
  );
}

/** "16 V AC, 10 VA": a supply's outputs, a device's rating. */
export function ratingWords({ kind, facts, rating }: ResolvedPart): string {
  if (kind === 'supply') {
    const outputs = facts.outputs.map(({ tap, volts, system, voltAmperes, amps }) =>
      figures([
        volts === undefined ? undefined : `${stated(volts, 'V')}${system === undefined ? '' : ` ${system}`}`,
        voltAmperes === undefined ? undefined : stated(voltAmperes, 'VA'),
        amps === undefined ? undefined : stated(amps, 'A'),
      ]).replace(/^/, tap === undefined ? '' : `${tap}: `),
    );
    return outputs.join('; ');
  }
  const { volts, system, voltAmperes, watts, amps } = rating ?? {};
  return figures([
    volts === undefined
      ? undefined
      : `${statedRange(volts.least, volts.most, 'V')}${system === undefined ? '' : ` ${system}`}`,
    voltAmperes === undefined ? undefined : stated(voltAmperes, 'VA'),
    watts === undefined ? undefined : stated(watts, 'W'),
    amps === undefined ? undefined : stated(amps, 'A'),
  ]);
}

const figures = (each: readonly (string | undefined)[]): string => each.filter((one) => one !== undefined).join(', ');

function cableMaterials(analysis: Analysis, allowance: Allowance): Material[] {
  const { profile } = analysis.installation;
  return cutList(analysis, allowance).map(({ cable, rows, cutMetres, reels }) => ({
    kind: 'cable',
    what: `Cable ${cable}`,
    detail: reels.map(({ reelMetres }) => `reel of ${length(reelMetres, profile)}`).join(', '),
    quantity: cutMetres > 0 ? length(cutMetres, profile) : 'measure',
    of: rows.map(({ run }) => run),
  }));
}

function smallMaterials(analysis: Analysis): Material[] {
  const words = tradeWords(analysis.installation.profile);
  const ends = conductorEnds(analysis);
  const connectors = analysis.installation.splices.map((splice) => ({
    name: splice.name,
    what: `Connector for a ${words.splice}`,
    detail: connectorWords(analysis, splice),
  }));
  const jumpers = [...analysis.jumpers.values()].map((jumper) => ({
    name: jumper.named ? jumper.name : `${jumper.from.part} to ${jumper.to.part}`,
    what: upperFirst(words[jumper.kind]),
    detail: 'from offcuts',
  }));
  const loose = ends.filter((end) => pointOfEnd(end) === undefined);
  const caps = loose.map((end) => ({
    name: end.run.name,
    what: 'Cap for a spare end',
    detail: gaugeWords(end.run.cable?.size),
  }));
  const labels = [...analysis.runs.keys()].flatMap((name) => [name, name]);
  return [
    ...counted('small', connectors),
    ...counted('small', jumpers),
    ...counted('small', caps).map((each) => ({ ...each, of: [...new Set(each.of)] })),
    ...counted(
      'small',
      labels.map((name) => ({ name, what: 'Label for a cable end', detail: '' })),
    ).map((each) => ({ ...each, of: [] })),
  ];
}

/** "3 x 18 AWG": the conductors that meet under one connector, tails not counted by size. */
function connectorWords(analysis: Analysis, { name }: Splice): string {
  const landed = conductorEnds(analysis).filter((end) => pointOfEnd(end) === name);
  const sizes = new Map<string, number>();
  for (const { run } of landed) {
    const size = gaugeWords(run.cable?.size);
    sizes.set(size, (sizes.get(size) ?? 0) + 1);
  }
  const tails = analysis.landedOn(name).length - landed.length;
  const counts = [...sizes].map(([size, count]) => `${count} x ${size === none ? 'unknown size' : size}`);
  return [...counts, ...(tails > 0 ? [`${tails} x link or lead`] : [])].join(', ') || 'nothing landed';
}

const groups: Record<Material['kind'], string> = {
  supply: 'Supplies',
  device: 'Devices',
  cable: 'Cable',
  small: 'Small parts',
};

export function materialsPaper(analysis: Analysis, allowance: Allowance = usualAllowance): Paper {
  const all = materials(analysis, allowance);
  const head = ['Quantity', 'What', 'Detail', 'For'];
  const row = ({ quantity, what, detail, of }: Material): Cell[] => [quantity, what, detail, of.join(', ')];
  const blocks = (['supply', 'device', 'cable', 'small'] as const).flatMap((kind) => {
    const rows = all.filter((each) => each.kind === kind);
    if (rows.length === 0) return [];
    const table: Table = {
      kind: 'table',
      head: [...head, 'In place, bought'],
      rows: rows.map((each) => [...row(each), write]),
      widths: [12, 29, 20, 25, 18],
    };
    return [{ kind: 'heading' as const, text: groups[kind] }, table];
  });
  const words = 'Everything the record has, whether it is in place already or not.';
  return {
    name: 'materials',
    title: 'Materials',
    blocks: [{ kind: 'words', text: all.length === 0 ? 'The record has no part yet.' : words }, ...blocks],
    table: { kind: 'table', head: ['Kind', ...head], rows: all.map((each) => [groups[each.kind], ...row(each)]) },
  };
}
