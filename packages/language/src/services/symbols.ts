/** The outline of a document: its statements, with the conductors of runs and the terminals of types below them. */

import { type DocumentSymbol, SymbolKind } from 'vscode-languageserver';
import { isConductor, type Land, type Lift, type Move, type Statement } from '../generated/ast.js';
import { type Site, stretchOf } from '../lower/sites.js';
import type { WiringDocument } from '../reading/document.js';
import { factsIn, stretchOfSlice } from './statement-at.js';

interface Outlined {
  readonly name: string;
  readonly detail: string;
  readonly kind: SymbolKind;
  readonly property: string;
}

export function documentSymbols(document: WiringDocument): DocumentSymbol[] {
  return document.slices.flatMap((slice) => {
    const whole = stretchOfSlice(slice);
    const outlined = slice.statement && outlineOf(slice.statement);
    if (!slice.statement || !whole || !outlined) return [];
    const range = document.rangeAt(whole.offset, whole.end);
    const selection = clamp(stretchOf({ document, node: slice.statement, property: outlined.property }), whole);
    const symbol: DocumentSymbol = {
      name: outlined.name,
      detail: outlined.detail,
      kind: outlined.kind,
      range,
      selectionRange: document.rangeAt(selection.offset, selection.end),
    };
    const children = childrenOf(document, slice.statement);
    return [children.length > 0 ? { ...symbol, children } : symbol];
  });
}

/** An editor refuses a selection outside its range. */
function clamp(inner: { offset: number; end: number }, outer: { offset: number; end: number }): typeof inner {
  const offset = Math.min(Math.max(inner.offset, outer.offset), outer.end);
  return { offset, end: Math.min(Math.max(inner.end, offset), outer.end) };
}

function outlineOf(statement: Statement): Outlined | undefined {
  const named = (
    name: string | undefined,
    detail: string,
    kind: SymbolKind,
    property = 'name',
  ): Outlined | undefined => (name === undefined || name === '' ? undefined : { name, detail, kind, property });
  switch (statement.$type) {
    case 'Title':
      return named(statement.title, 'title', SymbolKind.String, 'title');
    case 'Place':
      return named(statement.name, statement.words ?? 'place', SymbolKind.Namespace);
    case 'Supply':
      return named(statement.name, statement.type ?? 'supply', SymbolKind.Event);
    case 'Device':
      return named(statement.name, statement.type ?? 'device', SymbolKind.Object);
    case 'Splice':
      return named(statement.name, 'splice', SymbolKind.Operator);
    case 'Run':
      return named(statement.name, 'run', SymbolKind.Interface);
    case 'Jumper':
      return named(statement.name, statement.kind, SymbolKind.Interface);
    case 'Box':
      return named(statement.name, 'box', SymbolKind.Package);
    case 'PartType':
      return named(statement.name, `${statement.of} type`, SymbolKind.Class);
    case 'CableType':
      return named(statement.name, 'cable type', SymbolKind.Struct);
    case 'Replace': {
      const renamed = statement.newName !== undefined;
      const of = statement.kind.toLowerCase() as keyof typeof REPLACED;
      const detail = renamed ? `in place of ${statement.name}` : `another ${of}`;
      return named(statement.newName ?? statement.name, detail, REPLACED[of], renamed ? 'newName' : 'name');
    }
    case 'Remove':
      return named(
        statement.name ?? statement.$cstNode?.text.replace(/^\S+\s+/, ''),
        'removed',
        SymbolKind.Null,
        'name',
      );
    case 'Relocate':
      return named(statement.name, `to ${statement.place}`, SymbolKind.Object);
    case 'Move':
    case 'Land':
    case 'Lift':
      return named(conductorOf(statement), wayOf(statement), SymbolKind.Interface, 'run');
    case 'Readings':
      return named(statement.words ?? statement.date, 'readings', SymbolKind.Array, statement.words ? 'words' : 'date');
    default:
      return undefined;
  }
}

const REPLACED = { supply: SymbolKind.Event, device: SymbolKind.Object, run: SymbolKind.Interface } as const;

function conductorOf({ run, colour }: Move | Land | Lift): string | undefined {
  return run === undefined ? undefined : `${run}.${colour ?? ''}`;
}

/** "lift from porch-return": the statement without its conductor. */
function wayOf({ $type, $cstNode }: Move | Land | Lift): string {
  const rest = /^\S+\s+\S+\s+([\s\S]*)$/.exec($cstNode?.text ?? '')?.[1] ?? '';
  return `${$type.toLowerCase()} ${rest.replace(/\s+/g, ' ')}`.trim();
}

function childrenOf(document: WiringDocument, statement: Statement): DocumentSymbol[] {
  const child = (name: string, detail: string, site: Omit<Site, 'document'>): DocumentSymbol => {
    const { offset, end } = stretchOf({ document, node: site.node });
    const selection = clamp(stretchOf({ document, ...site }), { offset, end });
    return {
      name,
      detail,
      kind: SymbolKind.Field,
      range: document.rangeAt(offset, end),
      selectionRange: document.rangeAt(selection.offset, selection.end),
    };
  };
  if (statement.$type === 'Run' || statement.$type === 'Replace') {
    return factsIn(statement).flatMap((fact) => {
      if (!isConductor(fact) || fact.colour === undefined) return [];
      const { offset, end } = stretchOf({ document, node: fact });
      const detail = document.text.slice(offset, end).slice(fact.colour.length).trim().replace(/\s+/g, ' ');
      return [child(fact.colour, detail, { node: fact, property: 'colour' })];
    });
  }
  if (statement.$type === 'PartType') {
    return statement.facts.flatMap((fact) =>
      fact.$type === 'Terminals'
        ? fact.terminals
            .filter((terminal) => terminal.name !== undefined)
            .map((terminal) => child(terminal.name, terminal.words ?? '', { node: terminal, property: 'name' }))
        : [],
    );
  }
  return [];
}
