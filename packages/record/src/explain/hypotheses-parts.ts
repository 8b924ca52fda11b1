/** What goes wrong with pushes, supplies, chimes and settings. */

import { type ResolvedPart, partNameOf } from '../analysis-types.js';
import { quote, withRightArticles } from '../judging/words.js';
import { shortFigure } from '../resolve/figures.js';
import { type Suspect, stepsOf } from './hypotheses.js';
import { bypasses, conductorWords } from './hypotheses-wiring.js';
import type { House } from './house.js';
import type { Variant } from './variants.js';
import { otherVolts, severities, sound } from './practice.js';
import { noteOf } from './signs.js';
import type { FaultKind } from './types.js';

function partsOf(house: House): readonly ResolvedPart[] {
  return [...house.analysis.parts.values()];
}

function branchesOf(house: House, part: ResolvedPart, ...kinds: readonly string[]): readonly number[] {
  return house.branches.flatMap(({ kind, element }, branch) =>
    element?.part === part.name && kinds.includes(kind) ? [branch] : [],
  );
}

export function contactFaults(house: House): readonly Suspect[] {
  const byName = new Map<string, number[]>();
  for (const branch of house.contacts) {
    const { contact, element } = house.branches[branch]!;
    const part = house.analysis.parts.get(element!.part);
    if (part === undefined || part.elements.some((one) => one.element.kind === 'load')) continue;
    const list = byName.get(contact!.name) ?? [];
    byName.set(contact!.name, list);
    list.push(branch);
  }
  return [...byName].flatMap(([name, branches]): Suspect[] => {
    const parts = [partNameOf(name)];
    const all = (ohms: number) => new Map(branches.map((branch) => [branch, ohms]));
    const corroded = stepsOf(severities.corrodedOhms, 5).map(
      ({ value, half, share }): Variant => ({
        share,
        changes: [],
        made: all(value),
        spread: { branches, share: half },
      }),
    );
    const whose = `the contact of ${quote(name)}`;
    return [
      { kind: 'contact-corroded', on: name, what: `${whose} is corroded`, parts, variants: corroded },
      {
        kind: 'contact-stuck-open',
        on: name,
        what: `${whose} does not close`,
        parts,
        variants: [{ share: 1, changes: [], made: all(sound.open) }],
      },
      {
        kind: 'contact-stuck-closed',
        on: name,
        what: `${whose} does not open`,
        parts,
        variants: [{ share: 1, changes: [], unmade: all(sound.contact) }],
      },
    ];
  });
}

export function supplyFaults(house: House): readonly Suspect[] {
  return partsOf(house).flatMap((part): Suspect[] => {
    const windings = branchesOf(house, part, 'winding');
    if (windings.length === 0) return [];
    const whole = (share: number, ohms: number, emf: number, spread?: number): Variant => ({
      share,
      changes: windings.map((branch) => {
        const { ohms: own, reactance } = house.branches[branch]!;
        return { branch, ohms: own * ohms, reactance: reactance * ohms, emf };
      }),
      ...(spread === undefined ? {} : { spread: { branches: windings, share: spread } }),
    });
    const name = quote(part.name);
    const parts = [part.name];
    const one = (kind: FaultKind, on: string, what: string, variants: readonly Variant[]): Suspect => ({
      kind,
      on,
      what,
      parts,
      variants,
    });
    const fed = feeding(house, part);
    const offAll: Variant = {
      share: 1,
      off: true,
      changes: [...windings, ...fed].map((branch) => ({ ...same(house, branch), emf: 0 })),
    };
    return [
      one('supply-dead', part.name, `${name} is dead: its winding is burnt out`, [whole(1, 1, 0)]),
      one('supply-off', part.name, `nothing feeds ${name}: switched off, unplugged or tripped`, [offAll]),
      one(
        'supply-tired',
        part.name,
        `${name} is tired: its volts fall away under load`,
        stepsOf(severities.tiredFactor, 3).map(({ value, half, share }) => whole(share, value, 1, half)),
      ),
      ...otherVoltsOf(house, part, windings).map(({ volts, factor }) =>
        one(
          'supply-other-volts',
          `${part.name} ${volts}`,
          withRightArticles(`${name} is a ${volts} V one, not what the record says`),
          [whole(1, factor * factor, factor)],
        ),
      ),
      ...wrongTaps(house, part),
    ];
  });
}

function same(house: House, branch: number): { branch: number; ohms: number; reactance: number } {
  const { ohms, reactance } = house.branches[branch]!;
  return { branch, ohms, reactance };
}

/** Windings of parts whose primaries hang on this part's winding. */
function feeding(house: House, supply: ResolvedPart): readonly number[] {
  const network = house.analysis.network('nominal');
  const own = new Set(
    supply.elements.filter(({ element }) => element.kind === 'winding').map(({ a }) => network.circuitOf(a)),
  );
  return partsOf(house).flatMap((part) => {
    const primary = part.elements.find(({ element }) => element.kind === 'primary');
    if (primary === undefined || part.name === supply.name) return [];
    const circuit = network.circuitOf(primary.a);
    return circuit !== undefined && own.has(circuit) ? branchesOf(house, part, 'winding') : [];
  });
}

function otherVoltsOf(
  house: House,
  part: ResolvedPart,
  windings: readonly number[],
): readonly { readonly volts: number; readonly factor: number }[] {
  const rated = house.branches[windings[0]!]?.element?.ratedVolts;
  if (windings.length !== 1 || rated === undefined || rated > 60) return [];
  return otherVolts
    .filter((volts) => volts !== part.rating?.volts?.least)
    .flatMap((volts) => {
      const factor = volts / rated;
      return Math.abs(Math.log(factor)) < 0.2 ? [] : [{ volts, factor }];
    });
}

function wrongTaps(house: House, part: ResolvedPart): readonly Suspect[] {
  const screws = new Set(part.elements.flatMap(({ element, a, b }) => (element.kind === 'winding' ? [a, b] : [])));
  if (screws.size < 3) return [];
  return house.conductors.flatMap((conductor) =>
    conductor.ends.flatMap(({ on, joint, node }, end): Suspect[] => {
      if (on === undefined || joint === undefined || !screws.has(on)) return [];
      return [...screws]
        .filter((other) => other !== on)
        .map((other) => {
          const stray = house.stray(node, house.node(other));
          return {
            kind: 'supply-wrong-tap',
            on: `${conductor.run}.${conductor.colour}@${end === 0 ? 'from' : 'to'} ${other}`,
            what: `${conductorWords(conductor)} is on ${quote(other)}, not on ${quote(on)}`,
            parts: [part.name, conductor.run],
            variants: [
              {
                share: 1,
                changes: [
                  { branch: joint, ohms: sound.open },
                  { branch: stray, ohms: sound.joint },
                ],
              },
            ],
          };
        });
    }),
  );
}

export function chimeFaults(house: House): readonly Suspect[] {
  return partsOf(house).flatMap((part): Suspect[] => {
    const coils = branchesOf(house, part, 'coil').flatMap((branch): Suspect[] => {
      const { ohms, reactance, element } = house.branches[branch]!;
      const note = noteOf(house, branch);
      const on = note === undefined ? part.name : `${part.name} ${note}`;
      if (!isWired(house, element!.a) || !isWired(house, element!.b)) return [];
      const coil = note === undefined ? `the coil of ${quote(part.name)}` : `the ${note} coil of ${quote(part.name)}`;
      const one = (kind: FaultKind, what: string, variants: readonly Variant[]): Suspect => ({
        kind,
        on,
        what: `${coil} ${what}`,
        parts: [part.name],
        variants,
      });
      return [
        one('coil-open', 'is burnt through', [{ share: 1, changes: [{ branch, ohms: sound.open }] }]),
        one(
          'coil-turns-shorted',
          'has shorted turns',
          stepsOf(severities.shortedTurnsFactor, 4).map(({ value, half, share }) => ({
            share,
            changes: [{ branch, ohms: ohms * value, reactance: reactance * value }],
            spread: { branches: [branch], share: half },
          })),
        ),
        one('plunger-stuck', 'gets its volts, but its plunger is stuck', [
          { share: 1, changes: [], stuck: new Set([branch]) },
        ]),
      ];
    });
    const loads = branchesOf(house, part, 'load').flatMap((branch): Suspect[] => {
      const { element } = house.branches[branch]!;
      if (!isWired(house, element!.a) || !isWired(house, element!.b)) return [];
      const note = noteOf(house, branch);
      return [
        {
          kind: 'load-dead',
          on: note === undefined ? part.name : `${part.name} ${note}`,
          what: `${quote(part.name)} is dead inside${note === undefined ? '' : ` at ${note}`}`,
          parts: [part.name],
          variants: [{ share: 1, changes: [{ branch, ohms: sound.open }] }],
        },
      ];
    });
    return [...coils, ...loads];
  });
}

export function diodeFaults(house: House): readonly Suspect[] {
  return house.branches.flatMap(({ kind, element, a, b }, branch): Suspect[] => {
    const ends = [a, b];
    if (kind !== 'diode' || element === undefined || !ends.every((end) => isJoined(house, end, branch))) return [];
    const { part, id } = element;
    const isOnly = house.analysis.parts.get(part)?.elements.filter((one) => one.element.kind === 'diode').length === 1;
    const on = isOnly ? part : id.replace(/^part\//, '');
    const name =
      isOnly && house.analysis.parts.get(part)?.role === 'diode' ? quote(part) : `the diode of ${quote(part)}`;
    const one = (kind: FaultKind, what: string, variant: Omit<Variant, 'share'>): Suspect => ({
      kind,
      on,
      what: `${name} ${what}`,
      parts: [part],
      variants: [{ share: 1, ...variant }],
    });
    return [
      one('diode-missing', 'is missing, or burnt through', { changes: [{ branch, ohms: sound.open }] }),
      one('diode-reversed', 'is the wrong way round', { changes: [], reversed: new Set([branch]) }),
    ];
  });
}

/** Whether anything besides a branch itself ends at a node. */
function isJoined(house: House, node: number, but: number): boolean {
  return house.branches.some(
    ({ kind, a, b }, branch) => branch !== but && kind !== 'stray' && (a === node || b === node),
  );
}

function isWired(house: House, point: string): boolean {
  return house.analysis.landedOn(point).length > 0;
}

export function settingFaults(house: House): readonly Suspect[] {
  return partsOf(house).flatMap((part): Suspect[] => {
    const ring = part.elements.find(({ element }) => element.kind === 'contact' && element.name === 'ring');
    if (ring === undefined) return [];
    const now = ring.present ? 'is set to ring no chime, or has its ring setting lost' : 'is set to ring a chime';
    return [
      {
        kind: 'ring-setting',
        on: part.name,
        what: `${quote(part.name)} ${now}`,
        parts: [part.name],
        variants: [{ share: 1, changes: [], ringsWired: new Map([[part.name, !ring.present]]) }],
      },
    ];
  });
}

export function bypassFaults(house: House): readonly Suspect[] {
  const leftOut = house.links.flatMap(({ name, branch, kind }): Suspect[] => {
    if (!bypasses(house, branch)) return [];
    return [
      {
        kind: 'bypass-left-out',
        on: `${kind}/${name}`,
        what: `the bypass ${quote(name)} is not there`,
        parts: [name],
        variants: [{ share: 1, changes: [{ branch, ohms: sound.open }] }],
      },
    ];
  });
  const leftIn = partsOf(house).flatMap((part): Suspect[] =>
    part.role !== 'chime'
      ? []
      : branchesOf(house, part, 'coil', 'load').flatMap((sounder): Suspect[] => {
          const { a, b, element } = house.branches[sounder]!;
          const isBypassed = house.links.some(({ branch }) => joinsSame(house, branch, a, b));
          if (isBypassed || !isWired(house, element!.a) || !isWired(house, element!.b)) return [];
          const branch = house.stray(a, b);
          return [
            {
              kind: 'bypass-left-in',
              on: `${element!.a} ${element!.b}`,
              what: `a bypass was left between ${quote(element!.a)} and ${quote(element!.b)}`,
              parts: [partNameOf(element!.a)],
              variants: [{ share: 1, changes: [{ branch, ohms: sound.joint }] }],
            },
          ];
        }),
  );
  const kits = house.bypasses.flatMap((branch): Suspect[] => {
    const { element } = house.branches[branch]!;
    const name = element!.part;
    const limit = element?.element.kind === 'bypass' ? element.element.opensAbove : undefined;
    const stays = limit === undefined ? '' : ` above ${shortFigure(limit)} A`;
    return [
      {
        kind: 'bypass-failed-open',
        on: name,
        what: `${quote(name)} lets nothing through`,
        parts: [name],
        variants: [{ share: 1, changes: [{ branch, ohms: sound.open }] }],
      },
      {
        kind: 'bypass-failed-closed',
        on: name,
        what: `${quote(name)} does not let go${stays}`,
        parts: [name],
        variants: [{ share: 1, changes: [], latched: new Set([branch]) }],
      },
    ];
  });
  return [...leftOut, ...leftIn, ...kits];
}

function joinsSame(house: House, link: number, a: number, b: number): boolean {
  const { a: x, b: y } = house.branches[link]!;
  return (x === a && y === b) || (x === b && y === a);
}
