/** Text -> record -> solution -> findings, the same for editor, panel and command line. */

import {
  type Analysis,
  analyse,
  at,
  type Budget,
  budgetOf,
  type Finding,
  fixesFor,
  type Levels,
  runChecks,
  type Severity,
  withLevels,
} from '@ohmstead/record';
import type { TextFix } from './lower/context.js';
import { rangeOf, type Site } from './lower/sites.js';
import type { TextRange } from './reading/document.js';
import type { Reading } from './read.js';
import type { PlanPlaces } from './lower/plan.js';
import { siteInPlan } from './lower/plan-findings.js';
import { editsOf, newPlace } from './services/fix-edits.js';
import { planEditsOf } from './services/plan-edits.js';

export interface LocatedFinding {
  readonly uri: string;
  readonly range: TextRange;
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
  readonly related: readonly { readonly uri: string; readonly range: TextRange; readonly message: string }[];
  readonly accepted?: { readonly because: string };
  /** Those that reading the text offers; the computed ones are worked out by `fixesOf` when they are asked for. */
  readonly fixes: readonly TextFix[];
  /** The place that it finds missing, and that a statement of its own would name. */
  readonly missingPlace?: string;
  /** Names of the parts, runs and jumpers it is about. */
  readonly parts: readonly string[];
}

export interface CheckedRecord {
  readonly reading: Reading;
  readonly analysis: Analysis;
  /** Of the record's own file, in order of place; what is wrong in an imported file is said when that file is checked. */
  readonly findings: readonly LocatedFinding[];
  /** Those of `findings` that stand where they arise, without those that this record causes in imported files. */
  readonly own: readonly LocatedFinding[];
  /** Everything that is concluded of the circuit, wherever it would stand, at this workspace's levels. */
  readonly concluded: readonly Finding[];
  /** What was found while the text was read, likewise. */
  readonly read: readonly LocatedFinding[];
  readonly levels: Levels;
  budget(this: CheckedRecord): Budget;
  /** All fixes of one of `findings`; solves circuits anew, so not for every keystroke. */
  fixesOf(this: CheckedRecord, finding: LocatedFinding): readonly TextFix[];
}

export interface CheckOptions {
  /** An earlier check of the same record: solutions of circuits that did not change are taken over. */
  readonly previous?: CheckedRecord | undefined;
  /** An imported file checked by itself, to tell its own findings from those that this record causes in it. */
  readonly imported?: (uri: string) => CheckedRecord | undefined;
  /** How grave codes count in this workspace, as `levelsFrom` reads them; absent: as they are. */
  readonly levels?: Levels | undefined;
}

const AS_THEY_ARE: Levels = new Map();

export function checkRecord(reading: Reading, options: CheckOptions = {}): CheckedRecord {
  return new Checked(reading, options);
}

/**
 * What a comparison or an editor does not ask for is not worked out. A class, since a getter's function in an object literal is made in old
 * memory and holds on to all that it can see, until all memory is gone through.
 */
class Checked implements CheckedRecord {
  readonly reading: Reading;
  readonly analysis: Analysis;
  readonly read: readonly LocatedFinding[];
  readonly levels: Levels;
  readonly #imported: CheckOptions['imported'];
  readonly #computed = new Map<LocatedFinding, Finding>();
  readonly #elsewhere: { readonly finding: Finding; readonly place: PlaceInFile }[] = [];
  #concluded: readonly Finding[] | undefined;
  #own: readonly LocatedFinding[] | undefined;
  #findings: readonly LocatedFinding[] | undefined;
  #budget: Budget | undefined;

  constructor(reading: Reading, { previous, imported, levels = AS_THEY_ARE }: CheckOptions) {
    this.reading = reading;
    this.analysis = analyse(reading.installation, previous?.analysis);
    this.read = withLevels(reading.findings, levels);
    this.levels = levels;
    this.#imported = imported;
  }

  get concluded() {
    this.#concluded ??= withLevels(runChecks(this.analysis), this.levels);
    return this.#concluded;
  }

  get own() {
    this.#own ??= this.#locateOwn();
    return this.#own;
  }

  /** Asked for late: files that import one another must not wait for one another's. */
  get findings() {
    this.#findings ??= this.#withImports();
    return this.#findings;
  }

  budget(): Budget {
    this.#budget ??= budgetOf(this.analysis, [
      ...this.read.map((one) => ofReader(this.reading, one)),
      ...this.concluded,
    ]);
    return this.#budget;
  }

  fixesOf(located: LocatedFinding): readonly TextFix[] {
    const { reading, analysis } = this;
    const finding = this.#computed.get(located);
    if (finding) return computedFixes(reading, analysis, finding);
    const { missingPlace } = located;
    return missingPlace === undefined ? located.fixes : [...located.fixes, placeFix(reading.document, missingPlace)];
  }

  #locateOwn(): readonly LocatedFinding[] {
    const { reading } = this;
    const found: LocatedFinding[] = [...this.read];
    for (const finding of this.concluded) {
      const place = placeOf(reading, finding);
      if (!place) continue;
      if (place.uri !== reading.document.uri) this.#elsewhere.push({ finding, place });
      else {
        const located = locatedAt(reading, finding, place);
        found.push(located);
        this.#computed.set(located, finding);
      }
    }
    return found.sort(byPlace);
  }

  #withImports(): readonly LocatedFinding[] {
    const here = this.own;
    const brought = this.#elsewhere.flatMap(({ finding, place }) => {
      const located = atImport(this.reading, this.analysis, finding, place, this.#imported);
      if (!located) return [];
      this.#computed.set(located, finding);
      return [located];
    });
    return brought.length === 0 ? here : [...here, ...brought].sort(byPlace);
  }
}

type PlaceInFile = Pick<LocatedFinding, 'uri' | 'range'>;

function placeOf({ sourceMap }: Reading, { path }: Finding): PlaceInFile | undefined {
  return sourceMap.locate(path) ?? sourceMap.locate(at.record());
}

function locatedAt(reading: Reading, finding: Finding, place: PlaceInFile): LocatedFinding {
  const { code, severity, message, parts, accepted } = finding;
  const related = finding.related.flatMap(({ path, message: words }) => {
    const where = reading.sourceMap.locate(path);
    return where ? [{ ...where, message: words }] : [];
  });
  return { ...place, severity, code, message, fixes: [], parts, related, ...(accepted ? { accepted } : {}) };
}

/** What this record causes in an imported file stands at the import; what that file has by itself is said there alone. */
function atImport(
  reading: Reading,
  analysis: Analysis,
  finding: Finding,
  place: PlaceInFile,
  imported: CheckOptions['imported'],
): LocatedFinding | undefined {
  const { document, broughtBy, plan } = reading;
  const statement = broughtBy.get(place.uri);
  if (!statement) return undefined;
  let site: Site | undefined = { document, node: statement, property: 'path' };
  if (plan && statement.$type === 'Changes') {
    site = siteInPlan(plan, analysis, finding, isInBase(plan, finding, imported));
    if (!site) return undefined;
  } else {
    const own = imported?.(place.uri)?.own;
    // Unnamed jumpers are counted anew in each record, so a finding is known by its place and not by its parts.
    if (own?.some((one) => one.code === finding.code && isSameRange(one.range, place.range))) return undefined;
  }
  const located = locatedAt(reading, finding, place);
  const range = rangeOf(site);
  const related = [{ ...place, message: 'It is here.' }, ...located.related];
  return { ...located, uri: document.uri, range, related };
}

/** Whether what a plan changes has the finding by itself; a plan keeps the names of what it does not touch. */
function isInBase(plan: PlanPlaces, finding: Finding, imported: CheckOptions['imported']): boolean {
  const base = imported?.(plan.baseUri);
  if (!base) return false;
  const parts = finding.parts.join();
  const isThere = base.findings.some((one) => one.code === finding.code && one.parts.join() === parts);
  return isThere || (base.reading.plan !== undefined && isInBase(base.reading.plan, finding, imported));
}

function isSameRange(one: TextRange, other: TextRange): boolean {
  return (
    one.start.line === other.start.line &&
    one.start.character === other.start.character &&
    one.end.line === other.end.line &&
    one.end.character === other.end.character
  );
}

function computedFixes(reading: Reading, analysis: Analysis, finding: Finding): TextFix[] {
  return fixesFor(analysis, finding).flatMap(({ title, changes }) => {
    const edits = reading.plan ? planEditsOf(reading, changes) : editsOf(reading, changes);
    return edits ? [{ title, edits }] : [];
  });
}

function placeFix(document: Reading['document'], name: string): TextFix {
  return { title: `Add \`place ${name}\``, edits: [newPlace(document, name)] };
}

/** A finding of the reading, as the budget lists it beside the others. */
function ofReader({ sourceMap }: Reading, { code, severity, message, parts }: LocatedFinding): Finding {
  const name = parts[0];
  const path = [name && at.part(name), name && at.run(name), name && at.jumper(name)].find(
    (one) => one && sourceMap.exact(one),
  );
  return { code, severity, message, path: path || at.record(), related: [], parts, fixes: [] };
}

function byPlace(a: LocatedFinding, b: LocatedFinding): number {
  return (
    a.range.start.line - b.range.start.line ||
    a.range.start.character - b.range.start.character ||
    (a.code < b.code ? -1 : a.code > b.code ? 1 : 0)
  );
}
