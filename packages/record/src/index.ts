export * from './analysis-types.js';
export * from './finding.js';
export * from './model.js';
export * from './place-in-record.js';
export * from './readings-types.js';
export * from './readings/types.js';
export * from './explain/types.js';
export * from './budget-types.js';
export * from './checks/index.js';
export { analyse } from './analyse/analyse.js';
export { analysisAt, budgetAt, type ChosenValues, type ValueRange, valueRanges } from './analyse/at-values.js';
export { buildNetwork, type ResolvedInstallation } from './analyse/build-network.js';
export { budgetBranches } from './budget/branches.js';
export { budgetDevice, budgetOf, budgetRun } from './budget/budget.js';
export { budgetSupply } from './budget/supplies.js';
export { problemWords } from './budget/figures.js';
export * from './compare/index.js';
export * from './plan/index.js';
export * from './work-order/index.js';
export { explain } from './explain/explain.js';
export { judgedReadings } from './readings/judge.js';
export type { OhmsRow } from './probe/ohms.js';
export { type Probe, type ProbeOptions, type ProbeProblem, probe, type VoltsRow } from './probe/probe.js';
export { nearestNames } from './probe/nearest.js';
export { contactName, contactWithinPart } from './resolve/contacts.js';
export { resolveParts } from './resolve/parts.js';
export { resolveRuns } from './resolve/runs.js';
export { applyChanges } from './judging/apply-changes.js';
export { fixesFor } from './judging/fixes.js';
export { applyLevels, type Level, type Levels, levelsFrom, type ReadLevels, withLevels } from './judging/levels.js';
export { type Limit, limits, limitTable } from './judging/limits.js';
export {
  meterPointName,
  predictedWords,
  readingPlaceWords,
  readingShownWords,
  readingStateWords,
} from './judging/reading-words.js';
export { type ConcludedOfTwo, runChecks, runChecksApart, runChecksWhereDifferent } from './judging/run-checks.js';
export { type ShownReading, shownReadings } from './judging/shown-readings.js';
export { conditionWords, loadWords, stateWords } from './judging/state-words.js';
export { inTradeWords, type Region, regionOf, regionTable, type TradeWords } from './regions/regions.js';
export {
  boxAllowances,
  type BreakerRow,
  breakerRow,
  breakerRows,
  type LineLimit,
  lineLimit,
  lineLimitTable,
} from './regions/line-limits.js';
export { bellTransformerScope, class2Row, classOf, classTable, type Limiting } from './regions/power-limited.js';
export { isBranchCircuit } from './line-side/line-side.js';
export { boxFill, type BoxContents, type BoxFill } from './line-side/box-fill.js';
