/** Requests about names: where they are declared and used, what renaming changes, where a conductor goes. */

import {
  type CallHierarchyItem,
  DocumentHighlightKind,
  ErrorCodes,
  ResponseError,
  SymbolKind,
} from 'vscode-languageserver';
import { importedUri } from '../lower/imports.js';
import { type FollowItem, followable, followed, type Piece } from '../services/follow.js';
import { importEdits } from '../services/moved-files.js';
import { definitionsAt, referencesTo } from '../services/names.js';
import { refusalToRename, renamed } from '../services/rename.js';
import { pointedAt } from '../services/statement-at.js';
import { workspaceSymbols } from '../services/workspace-symbols.js';
import { type Asked, type At, located, placeAsked, workspaceEdit } from './asked.js';
import { keyOf } from './records.js';

export function answerNames(asked: Asked): void {
  const { connection, records } = asked;
  const locate = (place: Parameters<typeof located>[1]) => located(asked, place);

  connection.onDefinition((params) => {
    const here = placeAsked(asked, params);
    if (!here) return [];
    const { reading, offset } = here;
    const pointed = pointedAt(reading.document, offset);
    if (pointed?.kind === 'import') {
      const target = importedUri(reading.document.uri, pointed.path);
      const start = { line: 0, character: 0 };
      return target !== undefined && records.document(target)
        ? [locate({ uri: target, range: { start, end: start } })]
        : [];
    }
    return definitionsAt(reading.names, reading.document, offset).map(locate);
  });

  /** The name at the cursor and every record that its declarations are part of. */
  const nameAt = async (here: At, newName?: string) => {
    const use = here.reading.names.at(here.reading.document, here.offset);
    if (!use) return { use, readings: [] };
    await records.gather();
    const declaredIn = new Set(use.symbol.declarations.map((site) => site.document.uri));
    const names = [use.symbol.name, ...(newName === undefined ? [] : [newName])];
    const readings = records.recordsWith(use.symbol.shipped ? undefined : declaredIn, names);
    return { use, readings: readings.includes(here.reading) ? readings : [here.reading, ...readings] };
  };

  connection.onReferences(async (params) => {
    const here = placeAsked(asked, params);
    if (!here) return [];
    const { use, readings } = await nameAt(here);
    const places = use ? referencesTo(use.symbol, readings, params.context.includeDeclaration).map(locate) : [];
    records.release();
    return places;
  });

  connection.onDocumentHighlight((params) => {
    const here = placeAsked(asked, params);
    const symbol = here?.reading.names.at(here.reading.document, here.offset)?.symbol;
    if (!here || !symbol) return [];
    const { document, names } = here.reading;
    return names.usesIn(document).flatMap((use) => {
      if (use.symbol !== symbol) return [];
      const kind = use.declares ? DocumentHighlightKind.Write : DocumentHighlightKind.Read;
      return [{ range: document.rangeAt(use.offset, use.end), kind }];
    });
  });

  connection.onPrepareRename((params) => {
    const here = placeAsked(asked, params);
    const use = here?.reading.names.at(here.reading.document, here.offset);
    const refused = refusalToRename(use?.symbol);
    if (!here || !use || refused !== undefined)
      throw new ResponseError(ErrorCodes.InvalidRequest, refused ?? 'No name.');
    return { range: here.reading.document.rangeAt(use.offset, use.end), placeholder: use.symbol.name };
  });

  connection.onRenameRequest(async (params) => {
    const here = placeAsked(asked, params);
    if (!here) return null;
    const { use, readings } = await nameAt(here, params.newName);
    const refused = refusalToRename(use?.symbol);
    const sources = {
      document: (uri: string) => records.document(uri),
      insideOf: (uri: string) => records.reachOf(uri).isInside,
    };
    const result =
      use && refused === undefined ? renamed(use.symbol, params.newName, readings, sources) : { refused: refused! };
    records.release();
    if ('refused' in result) throw new ResponseError(ErrorCodes.InvalidRequest, result.refused);
    return workspaceEdit(asked, result.edits);
  });

  connection.workspace.onWillRenameFiles(async ({ files }) => {
    await records.gather();
    const moved = files.map(({ oldUri, newUri }) => ({ oldUri: keyOf(oldUri), newUri: keyOf(newUri) }));
    const edits = records.documentsWith('"').flatMap((document) => importEdits(document, moved));
    records.release();
    return edits.length === 0 ? null : workspaceEdit(asked, edits);
  });

  connection.onWorkspaceSymbol(async ({ query }) => {
    await records.gather();
    return workspaceSymbols(records.outlines(), query, locate);
  });

  const itemFor = ({ piece, name, detail, uri, range }: FollowItem, record: string): CallHierarchyItem => ({
    name,
    detail,
    kind: piece.kind === 'point' ? SymbolKind.Field : SymbolKind.Interface,
    uri: asked.ways.uriFor(uri),
    range,
    selectionRange: range,
    data: { record, piece },
  });
  /** What lies beyond an item, and the places in the item's own file, or in the file of what lies beyond, where it is gone on from. */
  const steps = (item: CallHierarchyItem, leaving: 'from' | 'to') => {
    const { record, piece } = item.data as { record: string; piece: Piece };
    const checked = records.check(record)?.record;
    const found = checked ? followed(checked, piece, leaving) : [];
    return found.map((step) => {
      const next = itemFor(step.item, record);
      // A caller's places are in its own file, which is not always that of what it calls.
      const ranges = leaving === 'to' ? step.places : [step.item];
      return {
        item: next,
        fromRanges: ranges
          .filter(({ uri }) => asked.ways.uriFor(uri) === (leaving === 'to' ? item.uri : next.uri))
          .map(({ range }) => range),
      };
    });
  };

  connection.languages.callHierarchy.onPrepare((params) => {
    const here = placeAsked(asked, params);
    const checked = here && records.check(here.document.uri)?.record;
    const item = here && checked && followable(checked, here.offset);
    return item ? [itemFor(item, here.document.uri)] : null;
  });
  connection.languages.callHierarchy.onOutgoingCalls(({ item }) =>
    steps(item, 'to').map((step) => ({ to: step.item, fromRanges: step.fromRanges })),
  );
  connection.languages.callHierarchy.onIncomingCalls(({ item }) =>
    steps(item, 'from').map((step) => ({ from: step.item, fromRanges: step.fromRanges })),
  );
}
