/** Every check, one line each. A retired code is never used again; retired: `not-yet`. */

import { acceptForbidden } from './accept-forbidden.js';
import { acceptUnused } from './accept-unused.js';
import { alwaysDeadContact } from './always-dead-contact.js';
import { assumedRating } from './assumed-rating.js';
import { boxOverfilled } from './box-overfilled.js';
import { branchOverloaded } from './branch-overloaded.js';
import { breakerExceedsWire } from './breaker-exceeds-wire.js';
import { budgetExceeded } from './budget-exceeded.js';
import { bypassMissing } from './bypass-missing.js';
import { chimeEnergizedIdle } from './chime-energized-idle.js';
import { chimeHums } from './chime-hums.js';
import { chimeNeverRings } from './chime-never-rings.js';
import { chimeSilenced } from './chime-silenced.js';
import { class2Exceeded } from './class2-exceeded.js';
import { coilEnergizedAtRest } from './coil-energized-at-rest.js';
import { coilNeverPullsIn } from './coil-never-pulls-in.js';
import { colourHabit } from './colour-habit.js';
import { colourNotInCable } from './colour-not-in-cable.js';
import { conductorOneEnd } from './conductor-one-end.js';
import { conductorOvercurrent } from './conductor-overcurrent.js';
import { conductorReused } from './conductor-reused.js';
import { contactOverloaded } from './contact-overloaded.js';
import { deviceOvervoltage } from './device-overvoltage.js';
import { deviceUndervoltage } from './device-undervoltage.js';
import { dropHigh } from './drop-high.js';
import { duplicateName } from './duplicate-name.js';
import { feedUnrecorded } from './feed-unrecorded.js';
import { groundMissing } from './ground-missing.js';
import { hotNeutralSwapped } from './hot-neutral-swapped.js';
import { importCycle } from './import-cycle.js';
import { importMissing } from './import-missing.js';
import { importOutside } from './import-outside.js';
import { jointNotBoxed } from './joint-not-boxed.js';
import { lineMeetsLowVoltage } from './line-meets-low-voltage.js';
import { lineShorted } from './line-shorted.js';
import { litPushOnElectronicChime } from './lit-push-on-electronic-chime.js';
import { loadCollapses } from './load-collapses.js';
import { lockNeverReleases } from './lock-never-releases.js';
import { lockNotHeld } from './lock-not-held.js';
import { mainsMismatch } from './mains-mismatch.js';
import { neutralGrounded } from './neutral-grounded.js';
import { neutralMissing } from './neutral-missing.js';
import { neverFed } from './never-fed.js';
import { noLoadUnlikely } from './no-load-unlikely.js';
import { outdoorPartIndoorsOnly } from './outdoor-part-indoors-only.js';
import { planConflict } from './plan-conflict.js';
import { planCycle } from './plan-cycle.js';
import { planEndElsewhere } from './plan-end-elsewhere.js';
import { planLeftHanging } from './plan-left-hanging.js';
import { planNothingThere } from './plan-nothing-there.js';
import { planTwice } from './plan-twice.js';
import { polarityReversed } from './polarity-reversed.js';
import { readingDisagrees } from './reading-disagrees.js';
import { readingImpossible } from './reading-impossible.js';
import { readingsContradict } from './readings-contradict.js';
import { resistorOverheats } from './resistor-overheats.js';
import { ringSettingUnknown } from './ring-setting-unknown.js';
import { runPlaceMismatch } from './run-place-mismatch.js';
import { separation } from './separation.js';
import { sharedReturn } from './shared-return.js';
import { shortRecord } from './short-record.js';
import { standbyTooShort } from './standby-too-short.js';
import { suppliesLinked } from './supplies-linked.js';
import { suppliesParallel } from './supplies-parallel.js';
import { supplyAboveMaximum } from './supply-above-maximum.js';
import { supplyHeadroom } from './supply-headroom.js';
import { supplyInPanel } from './supply-in-panel.js';
import { supplyInaccessible } from './supply-inaccessible.js';
import { supplyOverloaded } from './supply-overloaded.js';
import { supplyShorted } from './supply-shorted.js';
import { supplyTooSmall } from './supply-too-small.js';
import { syntax } from './syntax.js';
import { terminalCrowded } from './terminal-crowded.js';
import { terminalUnused } from './terminal-unused.js';
import type { RecordCheck } from './types.js';
import { unitMismatch } from './unit-mismatch.js';
import { unknownName } from './unknown-name.js';
import { unknownTerminal } from './unknown-terminal.js';
import { unknownType } from './unknown-type.js';
import { valueOutOfRange } from './value-out-of-range.js';
import { wetPlaceVolts } from './wet-place-volts.js';
import { wireTooThin } from './wire-too-thin.js';
import { wrongKind } from './wrong-kind.js';

/** Raised while the text is read, by code. */
export const readerChecks = {
  syntax,
  'unknown-name': unknownName,
  'duplicate-name': duplicateName,
  'unknown-terminal': unknownTerminal,
  'unknown-type': unknownType,
  'unit-mismatch': unitMismatch,
  'value-out-of-range': valueOutOfRange,
  'import-missing': importMissing,
  'import-cycle': importCycle,
  'import-outside': importOutside,
  'plan-nothing-there': planNothingThere,
  'plan-end-elsewhere': planEndElsewhere,
  'plan-twice': planTwice,
  'plan-conflict': planConflict,
  'plan-cycle': planCycle,
  'plan-left-hanging': planLeftHanging,
} as const;

/** Run over the analysis. */
export const recordChecks: readonly RecordCheck[] = [
  supplyShorted,
  suppliesParallel,
  suppliesLinked,
  sharedReturn,
  wrongKind,
  polarityReversed,
  deviceOvervoltage,
  supplyTooSmall,
  supplyAboveMaximum,
  supplyOverloaded,
  supplyHeadroom,
  loadCollapses,
  deviceUndervoltage,
  coilNeverPullsIn,
  coilEnergizedAtRest,
  lockNeverReleases,
  lockNotHeld,
  standbyTooShort,
  budgetExceeded,
  chimeNeverRings,
  chimeEnergizedIdle,
  chimeHums,
  chimeSilenced,
  bypassMissing,
  ringSettingUnknown,
  noLoadUnlikely,
  class2Exceeded,
  litPushOnElectronicChime,
  neverFed,
  alwaysDeadContact,
  conductorOvercurrent,
  contactOverloaded,
  resistorOverheats,
  wireTooThin,
  dropHigh,
  conductorOneEnd,
  conductorReused,
  colourNotInCable,
  terminalCrowded,
  terminalUnused,
  runPlaceMismatch,
  colourHabit,
  feedUnrecorded,
  shortRecord,
  readingDisagrees,
  readingImpossible,
  readingsContradict,
  assumedRating,
  branchOverloaded,
  breakerExceedsWire,
  groundMissing,
  neutralMissing,
  hotNeutralSwapped,
  lineShorted,
  neutralGrounded,
  boxOverfilled,
  jointNotBoxed,
  lineMeetsLowVoltage,
  supplyInPanel,
  separation,
  supplyInaccessible,
  outdoorPartIndoorsOnly,
  mainsMismatch,
  wetPlaceVolts,
  acceptUnused,
  acceptForbidden,
];
