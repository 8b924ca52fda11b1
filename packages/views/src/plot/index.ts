export { type PlotSvgOptions, reachSvg, waySvg } from './plot-svg.js';
export { reachTable, wayTable } from './plot-table.js';
export { plotStyle } from './plot-style.js';
export { type Reach, type ReachLine, reachOf } from './reach.js';
export { type Way, type WaySeries, type WayStep, waysTo } from './way.js';
