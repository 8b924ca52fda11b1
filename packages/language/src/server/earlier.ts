/** A record as it was: read from texts that the editor has of an earlier time, never from the files of now. */

import { type CheckedRecord, checkRecord } from '../pipeline.js';
import { readRecord } from '../read.js';
import { parseWiring, type WiringDocument } from '../reading/document.js';
import { keyOf, type Records } from './records.js';

/** By URI; null where there was no such file. */
export type EarlierTexts = Readonly<Record<string, string | null>>;

export type EarlierRecord =
  | { readonly record: CheckedRecord }
  /** Texts that are wanted beside those that were given. */
  | { readonly needs: readonly string[] }
  | { readonly gone: true };

/** Keeps the last one that was read, since a comparison is drawn anew whenever the record of now changes. */
export class EarlierRecords {
  readonly #records: Records;
  #last: { readonly key: string; readonly record: CheckedRecord } | undefined;

  constructor(records: Records) {
    this.#records = records;
  }

  of(uri: string, given: EarlierTexts): EarlierRecord {
    const own = keyOf(uri);
    const texts = new Map(Object.entries(given).map(([name, text]) => [keyOf(name), text]));
    const { isInside, settingsUri } = this.#records.reachOf(own);
    const wanted = [own, ...(settingsUri === undefined ? [] : [settingsUri])];
    const needs = new Set(wanted.filter((name) => !texts.has(name)));
    const settings = settingsUri === undefined ? undefined : (texts.get(settingsUri) ?? undefined);
    const levels = this.#records.levelsWith(settings);
    const key = JSON.stringify([own, [...texts].sort(), [...levels].sort()]);
    if (this.#last?.key === key) return { record: this.#last.record };

    const documents = new Map<string, WiringDocument | undefined>();
    const document = (name: string): WiringDocument | undefined => {
      if (!texts.has(name)) needs.add(name);
      if (!documents.has(name)) {
        const text = texts.get(name) ?? undefined;
        documents.set(name, text === undefined ? undefined : parseWiring(name, text));
      }
      return documents.get(name);
    };
    const checked = new Map<string, CheckedRecord>();
    const check = (one: WiringDocument): CheckedRecord => {
      const done = checked.get(one.uri);
      if (done) return done;
      const imported = (name: string): CheckedRecord | undefined => {
        const other = document(name);
        return other && check(other);
      };
      const previous = this.#records.checked(one.uri)?.record;
      const record = checkRecord(readRecord(one, { document, isInside }), { imported, levels, previous });
      checked.set(one.uri, record);
      return record;
    };
    const start = document(own);
    if (start) {
      // Nothing is solved before every text is there.
      readRecord(start, { document, isInside });
      if (needs.size === 0) {
        const record = check(start);
        this.#last = { key, record };
        return { record };
      }
    }
    return needs.size === 0 ? { gone: true } : { needs: [...needs] };
  }
}
