/** Which files a record consists of: its own and all that it imports, directly or through others. */

import { URI, Utils } from 'vscode-uri';
import type { Changes, Import } from '../generated/ast.js';
import type { WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';
import type { LoweringContext } from './context.js';

/** Where files come from: an editor, a disk, a test. */
export interface DocumentSource {
  /** The file as read; undefined where there is none that can be read. */
  document(uri: string): WiringDocument | undefined;
  /** Whether a file is part of the workspace; all are where it is left out. */
  isInside?(uri: string): boolean;
}

interface ImportLine {
  readonly slice: ReadSlice;
  readonly node: Import;
}

interface ChangesLine {
  readonly slice: ReadSlice;
  readonly node: Changes;
}

/** A record's files, imported ones first, and how its own file reached each of them. */
export interface RecordFiles {
  readonly documents: readonly WiringDocument[];
  /** By the URI of an imported file: the statement of the record's own file that brought it in. */
  readonly broughtBy: ReadonlyMap<string, Import | Changes>;
  /** Of a rewire plan: the files of the record that it changes. */
  readonly base?: RecordFiles;
  /** Files that are named and not there, so that their arrival can be waited for. */
  readonly missing: readonly string[];
  /** Says what is wrong with the imports of the record's own file. */
  readonly report: (context: LoweringContext) => void;
}

function importLines(document: WiringDocument): ImportLine[] {
  const lines: ImportLine[] = [];
  for (const slice of document.slices) {
    const node = slice.statement;
    if (node?.$type === 'Import' && node.path !== undefined) lines.push({ slice, node });
  }
  return lines;
}

/** The URI that an import's path means; undefined for one that is not relative or climbs above every folder. */
export function importedUri(from: string, path: string): string | undefined {
  const relative = path.replaceAll('\\', '/');
  if (relative === '' || /^([a-z][a-z0-9+.-]*:|\/)/i.test(relative)) return undefined;
  const folder = Utils.dirname(URI.parse(from));
  let depth = folder.path.split('/').filter((part) => part !== '').length;
  for (const part of relative.split('/')) {
    if (part === '..') depth--;
    else if (part !== '' && part !== '.') depth++;
    if (depth < 0) return undefined;
  }
  return Utils.resolvePath(folder, relative).toString();
}

/** The record that a rewire plan changes; undefined for a file that is none. */
export function changesOf(document: WiringDocument): ChangesLine | undefined {
  for (const slice of document.slices) {
    const node = slice.statement;
    if (node?.$type === 'Changes' && node.path !== undefined) return { slice, node };
  }
  return undefined;
}

/** URIs that a file imports, in order, for loading them ahead of reading. */
export function importsOf(document: WiringDocument): readonly string[] {
  return importLines(document).flatMap(({ node }) => importedUri(document.uri, node.path) ?? []);
}

/** `above` are the plans, outermost first, that this file is read for. */
export function gatherFiles(
  own: WiringDocument,
  source: DocumentSource,
  above: readonly WiringDocument[] = [],
): RecordFiles {
  const documents: WiringDocument[] = [];
  const broughtBy = new Map<string, Import | Changes>();
  const missing: string[] = [];
  const seen = new Set([own.uri]);
  const reports: ((context: LoweringContext) => void)[] = [];
  const base = gatherBase(own, source, above, (report) => reports.push(report));
  for (const uri of base?.missing ?? []) missing.push(uri);
  for (const document of base?.files ? allDocuments(base.files) : []) {
    seen.add(document.uri);
    broughtBy.set(document.uri, base!.node);
  }
  for (const line of importLines(own)) {
    const path = line.node.path;
    const say = (code: 'import-missing' | 'import-outside') =>
      reports.push((context) => {
        context.enter(own, line.slice);
        context.importsAreMissing = true;
        context.report(code, { path }, context.site(line.node, 'path'));
      });
    const uri = importedUri(own.uri, path);
    if (uri === undefined || source.isInside?.(uri) === false) {
      say('import-outside');
      continue;
    }
    const chain = chainBack(own.uri, uri, source);
    if (chain) {
      reports.push((context) => {
        context.enter(own, line.slice);
        const names = [own.uri, ...chain].map((one) => Utils.basename(URI.parse(one)));
        context.report('import-cycle', { chain: names }, context.site(line.node, 'path'));
      });
    }
    if (uri === own.uri) continue;
    if (!source.document(uri)) {
      missing.push(uri);
      say('import-missing');
      continue;
    }
    gather(uri, source, seen, (document) => {
      documents.push(document);
      broughtBy.set(document.uri, line.node);
    });
  }
  documents.push(own);
  return {
    documents,
    broughtBy,
    missing,
    ...(base?.files ? { base: base.files } : {}),
    report: (context) =>
      reports.forEach((report) => {
        report(context);
      }),
  };
}

/** Every file that a record is read from, those of what it changes first. */
export function allDocuments({ documents, base }: RecordFiles): readonly WiringDocument[] {
  return base ? [...allDocuments(base), ...documents] : documents;
}

interface BaseFiles {
  readonly node: Changes;
  readonly files?: RecordFiles;
  readonly missing: readonly string[];
}

function gatherBase(
  own: WiringDocument,
  source: DocumentSource,
  above: readonly WiringDocument[],
  report: (say: (context: LoweringContext) => void) => void,
): BaseFiles | undefined {
  const line = changesOf(own);
  if (!line) return undefined;
  const { node, slice } = line;
  const { path } = node;
  const say = (missing: readonly string[], what: (context: LoweringContext) => void): BaseFiles => {
    report((context) => {
      context.enter(own, slice);
      context.importsAreMissing = true;
      what(context);
    });
    return { node, missing };
  };
  const uri = importedUri(own.uri, path);
  if (uri === undefined || source.isInside?.(uri) === false) {
    return say([], (context) => context.report('import-outside', { path }, context.site(node, 'path')));
  }
  const plans = [...above, own];
  const chain = planChainBack(own.uri, uri, source);
  if (chain || plans.some((plan) => plan.uri === uri)) {
    const names = (chain ?? [own.uri, uri]).map((one) => Utils.basename(URI.parse(one)));
    return say([], (context) => context.report('plan-cycle', { chain: names }, context.site(node, 'path')));
  }
  const document = source.document(uri);
  if (!document) {
    return say([uri], (context) => context.report('import-missing', { path }, context.site(node, 'path')));
  }
  const files = gatherFiles(document, source, plans);
  return { node, files, missing: files.missing };
}

/** Plans from `own` by way of what each changes back to `own`; undefined where they end elsewhere. */
function planChainBack(own: string, start: string, source: DocumentSource): readonly string[] | undefined {
  const chain = [own];
  let uri: string | undefined = start;
  while (uri !== undefined && !chain.slice(1).includes(uri)) {
    chain.push(uri);
    if (uri === own) return chain;
    uri = changedBy(uri, source);
  }
  return undefined;
}

function changedBy(uri: string, source: DocumentSource): string | undefined {
  const document = source.isInside?.(uri) === false ? undefined : source.document(uri);
  const line = document && changesOf(document);
  return line && importedUri(uri, line.node.path);
}

/** Files reachable from one, each once, deepest first; a list of those still to visit keeps long chains off the stack. */
function gather(uri: string, source: DocumentSource, seen: Set<string>, add: (document: WiringDocument) => void): void {
  const found: WiringDocument[] = [];
  const waiting = [uri];
  while (waiting.length > 0) {
    const next = waiting.pop()!;
    if (seen.has(next)) continue;
    seen.add(next);
    const document = source.isInside?.(next) === false ? undefined : source.document(next);
    if (!document) continue;
    found.push(document);
    waiting.push(...importsOf(document));
  }
  for (const document of found.reverse()) add(document);
}

/** Files from `start` back to `own`, both included; undefined where no import leads back. */
function chainBack(own: string, start: string, source: DocumentSource): readonly string[] | undefined {
  const cameFrom = new Map<string, string | undefined>([[start, undefined]]);
  const waiting = [start];
  for (let index = 0; index < waiting.length; index++) {
    const uri = waiting[index]!;
    if (uri === own) {
      const chain: string[] = [];
      for (let at: string | undefined = uri; at !== undefined; at = cameFrom.get(at)) chain.unshift(at);
      return chain;
    }
    const document = source.document(uri);
    for (const next of document ? importsOf(document) : []) {
      if (cameFrom.has(next)) continue;
      cameFrom.set(next, uri);
      waiting.push(next);
    }
  }
  return undefined;
}
