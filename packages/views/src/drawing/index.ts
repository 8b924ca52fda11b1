import type { Analysis } from '@ohmstead/record';
import { drawingSvg } from './drawing-svg.js';
import { type DrawOptions, layOut } from './lay-out.js';

export * from './geometry.js';
export { drawingSvg } from './drawing-svg.js';
export { type DrawOptions, layOut, type PlacedFinding } from './lay-out.js';
export { contactNames } from './moment.js';
export { MOST_PARTS } from './scope.js';

/** The circuit drawing of a record as SVG. */
export async function drawCircuit(analysis: Analysis, options: DrawOptions = {}): Promise<string> {
  return drawingSvg(await layOut(analysis, options));
}
