/** A rewire plan as plain data: what is done to an installation, in no order. */

import type { CableType, Conductor, End, Figure, Installation, Part, PartFacts, PartType, Run } from '../model.js';
import type { RecordPath } from '../place-in-record.js';

/** Another supply or device in the place of one: nothing that was read off or measured on the old one holds for it. */
export interface ReplacePart {
  readonly kind: 'replace-part';
  readonly of: 'supply' | 'device';
  readonly name: string;
  /** Absent where the new one keeps the name. */
  readonly newName?: string;
  /** Absent where it is another of the same type. */
  readonly type?: string;
  readonly facts: PartFacts;
  readonly lands: Part['lands'];
}

/** Another cable along the same way: conductors that it does not state stay landed where the old one's were. */
export interface ReplaceRun {
  readonly kind: 'replace-run';
  readonly name: string;
  readonly newName?: string;
  readonly cable?: CableType;
  readonly cableWords?: string;
  /** Absent: as long as the old one. */
  readonly length?: Figure;
  readonly loopOhms?: Figure;
  readonly conductors: readonly Conductor[];
  readonly notes: readonly string[];
}

export type PlanStatement =
  | ReplacePart
  | ReplaceRun
  | { readonly kind: 'remove'; readonly name: string }
  | { readonly kind: 'remove-jumper'; readonly from: End; readonly to: End }
  /** The same part in another place, with what is landed on it. */
  | { readonly kind: 'relocate'; readonly name: string; readonly place: string }
  | { readonly kind: 'move'; readonly run: string; readonly colour: string; readonly from: End; readonly to: End }
  | { readonly kind: 'land'; readonly run: string; readonly colour: string; readonly from: End; readonly to: End }
  | { readonly kind: 'lift'; readonly run: string; readonly colour: string; readonly from: End };

export interface Plan {
  readonly title?: string;
  readonly statements: readonly PlanStatement[];
  /** What its ordinary statements add. */
  readonly adds: Pick<
    Installation,
    'places' | 'supplies' | 'devices' | 'splices' | 'runs' | 'jumpers' | 'accepts' | 'boxes' | 'grounds'
  >;
  /** Types known to the plan, those of the record it changes included. */
  readonly partTypes: ReadonlyMap<string, PartType>;
  /** Names in statements of the plan that could not be read. */
  readonly broken: ReadonlySet<string>;
}

export interface PlanNothingThereFacts {
  /** What the statement does: "remove", "replace", "move", "relocate". */
  readonly doing: string;
  /** "`old-button`", "a jumper from `a.x` to `b.y`". */
  readonly what: string;
  /** What the name belongs to instead, where it belongs to something: "run". */
  readonly isA?: string;
  /** The place that it is in already. */
  readonly isIn?: string;
  readonly nearest: readonly string[];
}
export interface PlanEndElsewhereFacts {
  readonly run: string;
  readonly colour: string;
  /** Where the plan says it is; absent for a conductor that the plan takes to be spare. */
  readonly from?: string;
  /** Where it is landed; empty for one that is spare. */
  readonly is: readonly string[];
}
export interface PlanTwiceFacts {
  /** "`red` of `tx-to-porch` is moved off `porch-button.a`". */
  readonly what: string;
}
export interface PlanConflictFacts {
  readonly one: string;
  readonly other: string;
}
export interface PlanLeftHangingFacts {
  readonly part: string;
  /** "`red` of `tx-to-porch`", "the jumper to `hall-chime.trans`". */
  readonly ends: readonly string[];
  /** The terminals that its replacement lacks, where it has one. */
  readonly lacks?: readonly string[];
  /** It is a box, and `ends` are what is left in it. */
  readonly isBox?: boolean;
}

interface Where {
  /** The statement it is said of; an added one is named by its path. */
  readonly at: { readonly statement: number } | { readonly path: RecordPath };
  /** Statements that explain it. */
  readonly related: readonly number[];
}

export type PlanProblem = Where &
  (
    | { readonly code: 'plan-nothing-there'; readonly facts: PlanNothingThereFacts }
    | { readonly code: 'plan-end-elsewhere'; readonly facts: PlanEndElsewhereFacts }
    | { readonly code: 'plan-twice'; readonly facts: PlanTwiceFacts }
    | { readonly code: 'plan-conflict'; readonly facts: PlanConflictFacts }
    | { readonly code: 'plan-left-hanging'; readonly facts: PlanLeftHangingFacts }
  );

export interface AppliedPlan {
  readonly installation: Installation;
  readonly problems: readonly PlanProblem[];
  /** Which statement is behind a path of the result; paths of what was added or left alone are not in it. */
  readonly origins: ReadonlyMap<RecordPath, number>;
  /** By the name a run has afterwards: its name in the record that is changed, where they differ. */
  readonly renamedRuns: ReadonlyMap<string, string>;
  /** Names of parts whose facts are the plan's own now. */
  readonly replaced: ReadonlySet<string>;
}

/** What a run's conductors are told by: the run's name and the colour. */
export function conductorKey(run: Run['name'], colour: Conductor['colour']): string {
  return `${run}.${colour}`;
}
