/** Places and boxes of an installation, and which are around which. */

import type { Box, Installation, Place } from '../model.js';
import { placesAround, placesByName } from '../resolve/places.js';

export class Surroundings {
  readonly places: ReadonlyMap<string, Place>;
  readonly boxes: ReadonlyMap<string, Box>;
  /** By the name of a place: the boxes that stand in it, or in a place within it. */
  readonly #standing = new Map<string, Box[]>();

  constructor({ places, boxes = [] }: Pick<Installation, 'places' | 'boxes'>) {
    this.places = placesByName(places);
    // Of two with one name the first counts.
    this.boxes = new Map([...boxes].reverse().map((box) => [box.name, box]));
    for (const box of boxes) {
      for (const { name } of this.around(box.place)) {
        const standing = this.#standing.get(name);
        if (standing) standing.push(box);
        else this.#standing.set(name, [box]);
      }
    }
  }

  around(name: string | undefined): readonly Place[] {
    return placesAround(this.places, name);
  }

  /** The innermost box that a place is or is in. */
  boxAround(name: string | undefined): Box | undefined {
    if (this.boxes.size === 0) return undefined;
    const seen = new Set<string>();
    for (let at = name; at !== undefined && !seen.has(at); at = this.places.get(at)?.within) {
      const box = this.boxes.get(at);
      if (box !== undefined) return box;
      seen.add(at);
    }
    return undefined;
  }

  /** As the installation states them. */
  inOrder(boxes: ReadonlySet<Box>): readonly Box[] {
    return boxes.size < 2 ? [...boxes] : [...this.boxes.values()].reverse().filter((box) => boxes.has(box));
  }

  boxesStandingIn(place: string): readonly Box[] {
    return this.#standing.get(place) ?? [];
  }
}
