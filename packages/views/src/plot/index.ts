export { reachSvg, waySvg } from './plot-svg.js';
export { type Reach, type ReachLine, reachOf } from './reach.js';
export { type Way, type WaySeries, type WayStep, waysTo } from './way.js';
