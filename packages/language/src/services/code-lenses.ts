/** Above each supply: what is drawn of its rating at worst. */

import { formatVoltAmperes } from '@ohmstead/circuit';
import {
  type BudgetWinding,
  budgetBranches,
  budgetSupply,
  isBranchCircuit,
  loadWords,
  stateWords,
} from '@ohmstead/record';
import type { Statement } from '../generated/ast.js';
import { stretchOf } from '../lower/sites.js';
import type { CheckedRecord } from '../pipeline.js';
import type { TextRange, WiringDocument } from '../reading/document.js';
import { branchWords, stated } from './words.js';

export interface SupplyLens {
  readonly name: string;
  readonly range: TextRange;
}

/** Where the lenses stand, a plan's replaced supplies included; their words are worked out for those that come into sight. */
export function supplyLenses(document: WiringDocument): SupplyLens[] {
  const lens = (node: Statement, property: string, name: string | undefined): SupplyLens[] => {
    const { offset, end } = stretchOf({ document, node, property });
    return name ? [{ name, range: document.rangeAt(offset, end) }] : [];
  };
  return document.file.statements.flatMap((statement) => {
    if (statement.$type === 'Supply') return lens(statement, 'name', statement.name);
    if (statement.$type !== 'Replace' || statement.kind?.toLowerCase() !== 'supply') return [];
    const { name, newName } = statement;
    return newName === undefined ? lens(statement, 'name', name) : lens(statement, 'newName', newName);
  });
}

/** "10 VA of 30 VA, worst while porch-button is held"; undefined where the supply has no figures. */
export function lensWords({ analysis }: CheckedRecord, name: string): string | undefined {
  const part = analysis.parts.get(name);
  if (part?.kind !== 'supply') return undefined;
  if (isBranchCircuit(part)) {
    const branch = budgetBranches(analysis).find((one) => one.name === name);
    return branch && branchWords(branch);
  }
  const { windings } = budgetSupply(analysis, part);
  const drawn = windings.filter(
    ({ worst, solved }) => isDrawn(worst?.va) || solved.some(({ volts }) => volts === null),
  );
  // Of several outputs those count that feed something.
  const words = (drawn.length > 0 ? drawn : windings.slice(0, 1)).flatMap((winding) => {
    const said = windingWords(winding, ({ closed, loads }) =>
      (stateWords(analysis, closed) + loadWords({ closed, loads })).replaceAll('`', ''),
    );
    if (said === undefined) return [];
    return [windings.length > 1 ? `${winding.from} to ${winding.to}: ${said}` : said];
  });
  return words.length === 0 ? undefined : words.join('; ');
}

/** Less than that is shown as nothing. */
function isDrawn(va: number | undefined): boolean {
  return va !== undefined && va >= 0.005;
}

function windingWords(
  { worst, ratedVA, solved }: BudgetWinding,
  when: (state: BudgetWinding['solved'][number]) => string,
): string | undefined {
  const missing = solved.find((figures) => figures.volts === null);
  if (missing) return `no figures ${when(missing)}: ${missing.reason}`;
  const figures = worst && solved.find(({ closed, loads }) => closed === worst.closed && loads === worst.loads);
  if (!worst || !figures) return undefined;
  const of = ratedVA === null ? '' : ` of ${stated(ratedVA, 'VA', 1)}`;
  if (!isDrawn(worst.va)) return `nothing drawn${of}`;
  return `${formatVoltAmperes(worst.va)}${of}, worst ${when(figures)}`;
}
