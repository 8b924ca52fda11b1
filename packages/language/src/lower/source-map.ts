/** From a path into the record to the place in the text that said it. */

import { pathAbove, type RecordPath } from '@ohmstead/record';
import type { TextRange } from '../reading/document.js';
import { rangeOf, type Site } from './sites.js';

export class SourceMap {
  readonly #sites = new Map<RecordPath, Site>();
  /** By the path of a part or run: what puts the places within it. */
  readonly #waiting = new Map<RecordPath, (() => void)[]>();

  put(path: RecordPath, site: Site): void {
    if (!this.#sites.has(path)) this.#sites.set(path, site);
  }

  /** Puts the places within a part or run when one of them is asked for, which few ever are. */
  putLater(owner: RecordPath, put: () => void): void {
    const waiting = this.#waiting.get(owner);
    if (waiting) waiting.push(put);
    else this.#waiting.set(owner, [put]);
  }

  #settle(path: RecordPath): void {
    const owner = ownerOf(path);
    const waiting = this.#waiting.get(owner);
    if (!waiting) return;
    this.#waiting.delete(owner);
    for (const put of waiting) put();
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
    for (const owner of [...this.#waiting.keys()]) this.#settle(owner);
    return this.#sites.keys();
  }
}

/** The path of the part, run or place that a path is within. */
export function ownerOf(path: RecordPath): RecordPath {
  const cut = path.indexOf('/', path.indexOf('/') + 1);
  return cut < 0 ? path : path.slice(0, cut);
}
