import type { Analysis } from '@ohmstead/record';
import { drawingSvg } from './drawing-svg.js';
import { layOut } from './lay-out.js';
import type { DrawOptions } from './sketch.js';

export * from './geometry.js';
export { drawingSvg, widthOf } from './drawing-svg.js';
export { drawingOf, layOut } from './lay-out.js';
export { drawingTable } from './drawing-table.js';
export { drawingStyle } from './drawing-style.js';
export * from './sketch.js';
export { choiceOf, contactNames } from './moment.js';
export { MOST_PARTS } from './scope.js';

/** The circuit drawing of a record as SVG. */
export async function drawCircuit(analysis: Analysis, options: DrawOptions = {}): Promise<string> {
  return drawingSvg(await layOut(analysis, options));
}
