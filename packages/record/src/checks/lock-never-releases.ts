import { type Analysis, type CircuitAnalysis, type ResolvedElement, partNameOf } from '../analysis-types.js';
import type { RelatedPlace } from '../finding.js';
import { leastVolts, mostVolts } from '../judging/judge-armature.js';
import { stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { volts } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

/** Said wherever a lock is: what a way out has to do is not for a solver to say. */
const EXIT = 'Free exit and fire release are decided by code and the authority.';

export const lockNeverReleases = defineCheck({
  code: 'lock-never-releases',
  severity: 'error',
  title: 'A lock stays held when it should let go',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.measured) {
      for (const lock of study.elementsOf(circuit, 'coil', 'load')) {
        const below = lock.releasesBelowVolts;
        if (below === undefined || !isHeldAtRest(analysis, circuit, lock, below)) continue;
        const least = leastVolts(analysis, circuit, lock);
        if (least !== undefined && least.volts >= below) {
          report({
            path: at.part(lock.part),
            message: `${quote(lock.part)} never lets go: it keeps ${volts(least.volts)} ${stateWords(analysis, least.solved.state.closed)} and releases below ${volts(below)}. Put the release contact in series with it. ${EXIT}`,
            related: fedBy(circuit),
            parts: [lock.part],
          });
          continue;
        }
        const idle = contactsThatLeaveItHeld(analysis, circuit, lock, below);
        if (idle.length === 0) continue;
        const [contact] = idle;
        const most = mostVolts(analysis, circuit, lock, (closed) => closed.length === 1 && closed[0] === contact);
        report({
          path: at.part(partNameOf(contact!)),
          message: `${quote(lock.part)} keeps ${volts(most?.volts ?? 0)} ${stateWords(analysis, [contact!])} and releases below ${volts(below)}: ${quotedList(idle)} must stand in series with it, with nothing past ${idle.length > 1 ? 'them' : 'it'}. ${EXIT}`,
          related: [{ path: at.part(lock.part), message: `${quote(lock.part)} stays held` }, ...fedBy(circuit)],
          parts: [partNameOf(contact!), lock.part, ...idle.slice(1).map(partNameOf)],
        });
      }
    }
  },
});

/** What has to be off before the lock lets go. */
function fedBy({ supplies }: CircuitAnalysis): readonly RelatedPlace[] {
  return supplies.map((name) => ({ path: at.part(name), message: `${quote(name)} keeps it held` }));
}

function isHeldAtRest(analysis: Analysis, circuit: CircuitAnalysis, lock: ResolvedElement, below: number): boolean {
  const rest = mostVolts(analysis, circuit, lock, (closed) => closed.length === 0);
  return rest !== undefined && rest.volts >= below;
}

/** Contacts that spring back and open when pressed, wired to the lock's circuit, that pressed alone leave it held. */
function contactsThatLeaveItHeld(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  lock: ResolvedElement,
  below: number,
): readonly string[] {
  const opening = studyOf(analysis)
    .elementsOf(circuit, 'contact')
    .filter(({ element }) => element.kind === 'contact' && element.normallyClosed && !element.maintained);
  return [...new Set(opening.flatMap(({ contact }) => contact ?? []))].filter((contact) => {
    const most = mostVolts(analysis, circuit, lock, (closed) => closed.length === 1 && closed[0] === contact);
    return most !== undefined && most.volts >= below;
  });
}
