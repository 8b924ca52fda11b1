/** What the lowering of one statement asked and noted, told without the text it stands in. */

import type { RecordPath } from '@ohmstead/record';
import type { NameKind, NameSpace, NameSymbol } from './names.js';
import type { Site } from './sites.js';

/** A place without its text, which is another after each edit. */
export type Spot = Omit<Site, 'document'>;
export type PutSpot = (path: RecordPath, node: Site['node'], property?: string, index?: number) => void;

export interface PlacesWithin {
  readonly owner: RecordPath;
  readonly puts: ((put: PutSpot) => void)[];
}

export interface NotedUse extends Spot {
  readonly kind: NameKind;
  readonly name: string;
  readonly owner: string | undefined;
}

export class Told {
  readonly asked: { readonly space: NameSpace; readonly name: string }[] = [];
  readonly uses: NotedUse[] = [];
  /** Parts of which a terminal was rightly named. */
  readonly rightlyNamed: string[] = [];
  /** By the part, run or place that they are within, of which a statement has few: what puts the places. */
  readonly places: PlacesWithin[] = [];

  ask(space: NameSpace, name: string): void {
    this.asked.push({ space, name });
  }

  use({ kind, name, owner }: NameSymbol, { node, property, index }: Site): void {
    this.uses.push({ kind, name, owner, node, property, index });
  }

  put(owner: RecordPath, places: (put: PutSpot) => void): void {
    const known = this.places.find((one) => one.owner === owner);
    if (known) known.puts.push(places);
    else this.places.push({ owner, puts: [places] });
  }
}
