import type { Analysis } from '../analysis-types.js';
import { quote } from '../judging/words.js';
import { isBranchCircuit } from '../line-side/line-side.js';
import { placesFrom } from '../line-side/places.js';
import type { Place } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const outdoorPartIndoorsOnly = defineCheck({
  code: 'outdoor-part-indoors-only',
  severity: 'warning',
  title: 'A part or cable is not marked for the weather that it is in',
  reach: 'cluster',
  run(analysis, report) {
    const { broken } = analysis.installation;
    for (const part of analysis.parts.values()) {
      const place = exposed(analysis, part.place?.name);
      if (place === undefined || part.facts.outdoor === true || broken.has(part.name)) continue;
      if (part.type === undefined || isBranchCircuit(part)) continue;
      report({
        path: part.stated.has('place') ? at.fact(part.name, 'place') : at.part(part.name),
        message: `${quote(part.name)} is in ${quote(place.name)}, which is ${weather(place)}, and neither it nor its type is marked \`outdoor\`. Water gets into a part that is made for indoors; see what its label says.`,
        related: [{ path: at.place(place.name), message: weather(place) }],
        parts: [part.name],
      });
    }
    for (const { run, cable } of analysis.runs.values()) {
      const [from, to] = [exposed(analysis, run.fromPlace), exposed(analysis, run.toPlace)];
      if (cable === undefined || cable.outdoor || run.raceway === true || broken.has(run.name)) continue;
      if (from === undefined || to === undefined) continue;
      report({
        path: at.cable(run.name),
        message: `${quote(run.name)} lies between ${quote(from.name)} and ${quote(to.name)}, both outside, and its cable is not marked \`outdoor\`. Sun and water break down the sheath of indoor cable; see what is printed on it.`,
        related: [{ path: at.place(from.name), message: weather(from) }],
        parts: [run.name],
      });
    }
  },
});

/** The innermost place in the open or in the wet. A box keeps out the weather of the place that it is in. */
function exposed(analysis: Analysis, name: string | undefined): Place | undefined {
  const around = placesFrom(analysis, name);
  const boxes = analysis.installation.boxes ?? [];
  if (around.some((place) => boxes.some((box) => box.name === place.name))) return undefined;
  return around.find(({ outdoor, wet }) => outdoor || wet);
}

function weather({ outdoor, wet }: Place): string {
  return outdoor && wet ? 'outdoor and wet' : wet ? 'wet' : 'outdoor';
}
