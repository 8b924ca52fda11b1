/** From a path into the record to the place in the text that said it. */

import { pathAbove, type RecordPath } from '@ohmstead/record';
import type { TextRange } from '../reading/document.js';
import { rangeOf, type Site } from './sites.js';

export class SourceMap {
  readonly #sites = new Map<RecordPath, Site>();

  put(path: RecordPath, site: Site): void {
    if (!this.#sites.has(path)) this.#sites.set(path, site);
  }

  /** The site of a path, or of the nearest path above it that has one. */
  site(path: RecordPath): Site | undefined {
    for (let at: RecordPath | undefined = path; at !== undefined; at = pathAbove(at)) {
      const site = this.#sites.get(at);
      if (site) return site;
    }
    return undefined;
  }

  exact(path: RecordPath): Site | undefined {
    return this.#sites.get(path);
  }

  locate(path: RecordPath): { readonly uri: string; readonly range: TextRange } | undefined {
    const site = this.site(path);
    return site && { uri: site.document.uri, range: rangeOf(site) };
  }

  paths(): IterableIterator<RecordPath> {
    return this.#sites.keys();
  }
}
