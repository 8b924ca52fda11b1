import type { Analysis, ResolvedElement } from '../analysis-types.js';
import { fedEdges, isEmpty } from '../judging/feeding.js';
import { isLineSideElement } from '../judging/line-side-element.js';
import { missingConductors } from '../judging/missing-conductor.js';
import { sameSideContact } from '../judging/misused-contact.js';
import { isRingContact } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { type Edge, isBare, REST_LEG } from '../judging/topology.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const alwaysDeadContact = defineCheck({
  code: 'always-dead-contact',
  severity: 'warning',
  title: 'Pressing a contact changes nothing',
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.circuits) {
      if (study.hasLooseEnd(study.componentOf(circuit))) continue;
      const edges = study.edgesOf(circuit);
      const fed = fedEdges(edges);
      for (const contact of study.elementsOf(circuit, 'contact')) {
        if (isRingContact(analysis, contact) || isLineSideElement(analysis, contact)) continue;
        if (isLeftUnused(analysis, contact)) continue;
        const name = contact.contact ?? contact.part;
        const dead = !changesSomething(analysis, contact, fed);
        if (!dead && worksAlone(analysis, contact, edges)) continue;
        report({
          path: at.part(contact.part),
          message: dead
            ? `Pressing ${quote(name)} changes nothing anywhere: ${reason(analysis, contact, fed)}.`
            : `Pressing ${quote(name)} alone changes nothing: something else has to be held as well. Look for a conductor of it that is on the wrong splice or terminal.`,
          parts: [contact.part],
          mends: () => missingConductors(analysis, [contact.part]),
        });
      }
    }
  },
});

function changesSomething(analysis: Analysis, contact: ResolvedElement, fed: ReadonlySet<string>): boolean {
  return (fed.has(contact.id) || fed.has(`${contact.id}${REST_LEG}`)) && !isJoinedAtRest(analysis, contact);
}

/** A contact to a terminal of its own that may stay empty and is: a spare zone, an end switch that nobody wired. */
function isLeftUnused(analysis: Analysis, contact: ResolvedElement): boolean {
  const { part, element } = contact;
  const { terminals = [], elements = [] } = analysis.parts.get(part) ?? {};
  if (element.kind !== 'contact' || element.restTo !== undefined) return false;
  return [element.a, element.b].some((end) => {
    const isOptional = terminals.some(({ name, optional }) => name === end && optional);
    const isItsOwn = elements.every((other) => other === contact || ![other.element.a, other.element.b].includes(end));
    return isOptional && isItsOwn && isEmpty(analysis, part, end);
  });
}

const AT_REST: ReadonlySet<string> = new Set();

/** Whether the contact lies in a loop with a supply while no other one that springs back is held. */
function worksAlone(analysis: Analysis, contact: ResolvedElement, edges: readonly Edge[]): boolean {
  const { momentary } = analysis;
  if (contact.contact === undefined || !momentary.has(contact.contact)) return true;
  const others = edges.filter((edge) => {
    const { element } = edge;
    if (element?.element.kind !== 'contact' || element.contact === undefined) return true;
    return element.contact === contact.contact || !momentary.has(element.contact) || isBare(edge, AT_REST);
  });
  return others.length === edges.length || fedEdges(others).has(contact.id);
}

/** Whether metal other than the contact itself joins its ends with nothing pressed. */
function isJoinedAtRest(analysis: Analysis, contact: ResolvedElement): boolean {
  const { element } = contact;
  const normallyClosed = element.kind === 'contact' && element.normallyClosed;
  return !normallyClosed && studyOf(analysis).isBypassed(contact, []);
}

function reason(analysis: Analysis, contact: ResolvedElement, fed: ReadonlySet<string>): string {
  if (fed.has(contact.id) && isJoinedAtRest(analysis, contact)) return 'its two terminals are joined already';
  const around = studyOf(analysis).topology.edgesAround(contact);
  const sameSide = sameSideContact(
    analysis,
    around.filter(({ element }) => element === undefined || element === contact),
  );
  if (sameSide !== undefined) return `both of its conductors come from ${quote(sameSide.point)}`;
  const { part, element } = contact;
  if (isEmpty(analysis, part, element.a) && isEmpty(analysis, part, element.b)) return 'nothing is landed on it';
  return 'it is in no closed loop with a supply';
}
