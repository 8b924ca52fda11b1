/** Sheets of styles alone, for who builds a page's sheet and needs none of the views. */

export { budgetStyle } from './budget-style.js';
export { drawingStyle } from './drawing/drawing-style.js';
export { panelPartsStyle } from './panel/panel-style.js';
export { plotStyle } from './plot/plot-style.js';
