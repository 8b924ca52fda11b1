/** From a path into the record to the place in the text that said it. */

import { pathAbove, type RecordPath } from '@ohmstead/record';
import type { TextRange, WiringDocument } from '../reading/document.js';
import { rangeOf, type Site } from './sites.js';
import type { PlacesWithin, PutSpot } from './told.js';

/** A statement's places as they were told of it, at its place in a text. */
interface Waiting {
  readonly document: WiringDocument;
  readonly places: readonly PlacesWithin[];
}

export class SourceMap {
  readonly #sites = new Map<RecordPath, Site>();
  /** In order of the statements, before anybody asks. */
  #told: Waiting[] = [];
  /** By the path of a part, run or place: what is to be put within it. Statements that share one stand in a list. */
  readonly #waiting = new Map<RecordPath, Waiting | Waiting[]>();

  put(path: RecordPath, site: Site): void {
    if (!this.#sites.has(path)) this.#sites.set(path, site);
  }

  /** Puts the places within parts, runs and places when one of them is asked for, which few ever are. */
  putLater(document: WiringDocument, places: readonly PlacesWithin[]): void {
    this.#told.push({ document, places });
  }

  #sortTold(): void {
    for (const one of this.#told) {
      for (const { owner } of one.places) {
        const others = this.#waiting.get(owner);
        if (others === undefined) this.#waiting.set(owner, one);
        else if (Array.isArray(others)) others.push(one);
        else this.#waiting.set(owner, [others, one]);
      }
    }
    this.#told = [];
  }

  #settle(path: RecordPath): void {
    if (this.#told.length > 0) this.#sortTold();
    const owner = ownerOf(path);
    const waiting = this.#waiting.get(owner);
    if (!waiting) return;
    this.#waiting.delete(owner);
    for (const one of Array.isArray(waiting) ? waiting : [waiting]) this.#putWithin(owner, one);
  }

  #putWithin(owner: RecordPath, { document, places }: Waiting): void {
    const put: PutSpot = (path, node, property, index) => this.put(path, { document, node, property, index });
    for (const one of places) if (one.owner === owner) for (const puts of one.puts) puts(put);
  }

  /** The site of a path, or of the nearest path above it that has one. */
  site(path: RecordPath): Site | undefined {
    this.#settle(path);
    for (let at: RecordPath | undefined = path; at !== undefined; at = pathAbove(at)) {
      const site = this.#sites.get(at);
      if (site) return site;
    }
    return undefined;
  }

  exact(path: RecordPath): Site | undefined {
    this.#settle(path);
    return this.#sites.get(path);
  }

  locate(path: RecordPath): { readonly uri: string; readonly range: TextRange } | undefined {
    const site = this.site(path);
    return site && { uri: site.document.uri, range: rangeOf(site) };
  }

  paths(): IterableIterator<RecordPath> {
    if (this.#told.length > 0) this.#sortTold();
    for (const owner of [...this.#waiting.keys()]) this.#settle(owner);
    return this.#sites.keys();
  }
}

/** The path of the part, run or place that a path is within. */
export function ownerOf(path: RecordPath): RecordPath {
  const cut = path.indexOf('/', path.indexOf('/') + 1);
  return cut < 0 ? path : path.slice(0, cut);
}
