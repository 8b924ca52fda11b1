/** A computed fix in a rewire plan: the record underneath is what was found and stays as it is, so the plan itself says what is done. */

import { at, type Conductor, type Installation, pointOf, type RecordChange } from '@ohmstead/record';
import { gaugeWords } from './gauge-words.js';
import { type EditedPlace, editsOf, type FixedRecord, newStatement, outputFact } from './fix-edits.js';

/** Undefined where a plan has no statement for it. */
export function planEditsOf(record: FixedRecord, changes: readonly RecordChange[]): readonly EditedPlace[] | undefined {
  const edits: EditedPlace[] = [];
  for (const change of changes) {
    const inPlace = editsOf(record, [change]);
    const isOwn = inPlace?.every(({ uri }) => uri === record.document.uri);
    const made = isOwn ? inPlace : planned(record, change);
    if (!made) return undefined;
    edits.push(...made);
  }
  return edits;
}

function planned({ installation, sourceMap, document }: FixedRecord, change: RecordChange): EditedPlace[] | undefined {
  const statement = statementFor(installation, change);
  if (statement === undefined) return undefined;
  // What the plan replaces or moves already is not changed once more by a second statement.
  const own = (path: string): boolean => sourceMap.exact(path)?.document === document;
  if (change.kind === 'set-output' && own(at.part(change.part))) return undefined;
  if (change.kind === 'set-cable' && own(at.run(change.run))) return undefined;
  if ('end' in change && own(at.conductorEnd(change.run, change.conductor, change.end))) return undefined;
  return [newStatement(document, statement)];
}

function statementFor(installation: Installation, change: RecordChange): string | undefined {
  switch (change.kind) {
    case 'set-output':
      return `replace supply ${change.part} { ${outputFact(installation, change)} }`;
    case 'set-cable': {
      const run = installation.runs.find(({ name }) => name === change.run);
      const count = run?.cable?.colours.length;
      const cable = count === undefined ? undefined : gaugeWords(change.size, count);
      return cable === undefined ? undefined : `replace run ${change.run} : ${cable}`;
    }
    case 'remove-jumper': {
      const jumper = installation.jumpers.find(({ name }) => name === change.jumper);
      return jumper && `remove jumper ${pointOf(jumper.from)} to ${pointOf(jumper.to)}`;
    }
    case 'cap':
    case 'land': {
      const conductor = conductorOf(installation, change);
      const landing = conductor?.[change.end];
      if (landing?.kind !== 'on') return undefined;
      const what = `${change.run}.${conductor!.colour} from ${pointOf(landing.end)}`;
      return change.kind === 'cap' ? `lift ${what}` : `move ${what} to ${pointOf(change.on)}`;
    }
    default:
      return undefined;
  }
}

function conductorOf(
  { runs }: Installation,
  { run, conductor }: { readonly run: string; readonly conductor: number },
): Conductor | undefined {
  return runs.find(({ name }) => name === run)?.conductors[conductor];
}
