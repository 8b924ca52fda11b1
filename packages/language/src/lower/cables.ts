/** Cables: what their printed size means and the colours their conductors usually have. */

import { type CableType, type ConductorSize, regionOf } from '@ohmstead/record';
import type { Cable, CableTrait, CableType as CableTypeNode } from '../generated/ast.js';
import type { Measure } from '../reading/units.js';
import type { LoweringContext } from './context.js';
import { number, readCount, readFigure, sizeOf } from './figures.js';
import { textOf } from './sites.js';

/** Conductor colours in the order of the cable; beyond the region's table they are numbered. */
function defaultColours(profile: string, count: number, withGround: boolean): readonly string[] {
  const { lineColours, lowVoltageColours, groundColour } = regionOf(profile);
  return withGround ? [...padded(lineColours(count), count), groundColour] : padded(lowVoltageColours, count);
}

/** A cable printed in AWG has the colours of where AWG is used, whatever the profile. */
function printedIn(size: ConductorSize, profile: string): string {
  return size.kind === 'awg' ? 'north-america' : profile;
}

function padded(colours: readonly string[], count: number): string[] {
  return Array.from({ length: count }, (_, index) => colours[index] ?? String(index + 1));
}

/** `red/white` and `white/red` are one conductor; colours are read without regard to case. */
export function sameColour(a: string, b: string): boolean {
  const one = a.toLowerCase();
  const other = b.toLowerCase();
  return one === other || (one.includes('/') && one.split('/').reverse().join('/') === other);
}

/** The cable's own spelling of a colour; the colour as written where the cable has none such. */
export function colourIn(cable: CableType | undefined, written: string): string {
  return cable?.colours.find((colour) => sameColour(colour, written)) ?? written.toLowerCase();
}

interface Made {
  size: ConductorSize;
  count: number;
  withGround: boolean;
}

/** The cable that a run states; undefined, with the reason reported, where it can't be known. */
export function lowerCable(
  context: LoweringContext,
  node: Cable,
  types: ReadonlyMap<string, CableType>,
  numbered: boolean,
): CableType | undefined {
  if (node.type !== undefined) {
    const type = types.get(node.type);
    return type && withTraits(type, node.traits);
  }
  const made = madeOf(context, node);
  if (!made) return undefined;
  const withGround = made.withGround || node.traits.some((trait) => trait.withGround);
  const count = made.withGround ? made.count - 1 : made.count;
  const colours = numbered
    ? Array.from({ length: made.count }, (_, index) => String(index + 1))
    : defaultColours(printedIn(made.size, context.profile), count, withGround);
  const plain: CableType = {
    name: textOf(context.site(node, 'cores')),
    size: made.size,
    colours,
    stranded: false,
    material: 'copper',
    listed: [],
    withGround,
    shielded: false,
    outdoor: false,
    directBurial: false,
    shipped: false,
  };
  return withTraits(plain, node.traits);
}

/** `18/2`, `2 x 0.5 mm2`, `3G1.5`, `2 x 2 x 0.6 mm`. */
function madeOf(context: LoweringContext, node: Cable): Made | undefined {
  const cores = node.cores ?? '';
  const site = context.site(node, 'cores');
  const byCores = /^(\d+)g([\d.]+)$/i.exec(cores);
  if (byCores) return checked(context, node, Number(byCores[1]), 'area', Number(byCores[2]), true);
  const bySize = cores.split(/\s*[x\u00D7]\s*/i);
  if (bySize.length > 1) {
    const measure = measureOf(node.unit);
    if (!measure) {
      const facts = {
        written: textOf(context.site(node)),
        of: 'a cable by its conductors',
        fits: ['mm2', 'mm', 'AWG'],
      };
      context.report('unit-mismatch', { ...facts, missing: node.unit === undefined }, site);
      return undefined;
    }
    const count = bySize.slice(0, -1).reduce((product, part) => product * number(part), 1);
    const size = number(bySize.at(-1)!);
    return checked(context, node, count, measure, measure === 'length' ? size / 1000 : size, false);
  }
  const [gauge, count] = cores.split(/\s?[-/\u2013]\s?/).map(Number);
  return checked(context, node, count!, 'gauge', gauge!, false);
}

function measureOf(unit: string | undefined): 'area' | 'length' | 'gauge' | undefined {
  const written = unit?.toLowerCase();
  if (written === 'mm2' || written === 'mm\u00b2') return 'area';
  if (written === 'mm') return 'length';
  return written === 'awg' ? 'gauge' : undefined;
}

const MOST_CONDUCTORS = 100;

function checked(
  context: LoweringContext,
  node: Cable,
  count: number,
  measure: Measure,
  size: number,
  withGround: boolean,
): Made | undefined {
  const site = context.site(node, 'cores');
  const written = textOf(site);
  const counted = readCount(context, String(count), site, 'the number of conductors in a cable', 1, MOST_CONDUCTORS);
  if (counted === undefined) return undefined;
  const fits = measure === 'gauge' ? Number.isInteger(size) && size >= 0 && size <= 40 : size > 0 && size <= 300;
  if (!fits) {
    const takes = measure === 'gauge' ? 'from 0 to 40 AWG, such as `18/2`' : 'above 0 and up to 300 mm2';
    context.report('value-out-of-range', { written, of: 'the size of a conductor', takes }, site);
    return undefined;
  }
  return { size: sizeOf(measure, size), count, withGround };
}

/** A cable with what else is printed on it. */
function withTraits(cable: CableType, traits: readonly CableTrait[]): CableType {
  if (traits.length === 0) return cable;
  const has = (word: CableTrait['word']) => traits.some((trait) => trait.word?.toLowerCase() === word);
  const listed = traits.flatMap((trait) => trait.listed ?? []);
  return {
    ...cable,
    stranded: cable.stranded || has('stranded'),
    shielded: cable.shielded || has('shielded'),
    outdoor: cable.outdoor || has('outdoor') || has('direct-burial'),
    directBurial: cable.directBurial || has('direct-burial'),
    material: traits.some((trait) => trait.clad) ? 'copper-clad-aluminium' : cable.material,
    withGround: cable.withGround || traits.some((trait) => trait.withGround),
    listed: [...cable.listed, ...listed],
  };
}

const perMetre: Readonly<Record<string, number>> = { m: 1, km: 1000, ft: 0.3048, kft: 304.8, mile: 1609.344 };

/** A `cable type` statement. */
export function lowerCableType(context: LoweringContext, node: CableTypeNode, shipped: boolean): CableType {
  let size: ConductorSize | undefined;
  let ohmsPerMetre: number | undefined;
  const colours: string[] = [];
  const traits: CableTrait[] = [];
  for (const fact of node.facts) {
    switch (fact.$type) {
      case 'Conductors': {
        const read = readFigure(context, fact.size, ['gauge', 'area', 'length'], "a conductor's size");
        if (read) size = sizeOf(read.measure, read.least);
        for (const colour of fact.colours) colours.push(colour.toLowerCase());
        break;
      }
      case 'Resistance': {
        const read = readFigure(context, fact.figure, ['ohms'], 'a resistance');
        const length = perMetre[fact.per.toLowerCase()];
        if (read && length) ohmsPerMetre = read.least / length;
        if (length === undefined) {
          const facts = {
            written: fact.per,
            of: 'the length of a resistance',
            missing: false,
            fits: ['km', 'm', 'kft', 'ft'],
          };
          context.report('unit-mismatch', facts, context.site(fact, 'per'));
        }
        break;
      }
      case 'CableTrait':
        traits.push(fact);
        break;
    }
  }
  const plain: CableType = {
    name: node.name,
    ...(node.words === undefined ? {} : { words: node.words }),
    ...(size ? { size } : {}),
    colours,
    ...(ohmsPerMetre === undefined ? {} : { ohmsPerMetre }),
    stranded: false,
    material: 'copper',
    listed: [],
    withGround: false,
    shielded: false,
    outdoor: false,
    directBurial: false,
    shipped,
  };
  return withTraits(plain, traits);
}
