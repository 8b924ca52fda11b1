/** How the panel's own things are set, beside the budget's and the pictures' sheets. Colours come from the surface. */
export const panelPartsStyle = `
.controls { display: flex; flex-wrap: wrap; align-items: flex-start; gap: 0 1em; margin-top: 1.2em; }
.controls .states { flex: 1 1 20em; min-width: 0; margin-top: 0.8em; }
.toggle { padding: 0.15em 0.9em; border: 1px solid var(--rule); border-radius: 3px; }
header .toggle { float: right; margin: 0.2em 0 0 1em; }
.tools { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: center; gap: 0.4em 1em; margin-top: 0.7em; }
.tools .toggle { margin-left: auto; }
.toggle[aria-pressed="true"] { border-color: currentColor; font-weight: 600; }
.values { display: grid; grid-template-columns: repeat(auto-fit, minmax(12em, 1fr)); gap: 0.4em 2em; }
.values .fine { grid-column: 1 / -1; }
.slider { display: block; min-width: 0; }
.slider > span { display: flex; justify-content: space-between; gap: 1em; }
.slider output { font-weight: 600; }
.slider input { display: block; width: 100%; margin: 0.3em 0 0; accent-color: var(--strong); }
.budget .slider-marks { width: calc(100% - 16px); margin: 0 8px; }
.slider-mark { fill: var(--dim); }
.slider-marks text { fill: var(--dim); font-size: 0.85em; }
.follow[data-values] { text-decoration: underline; }
.picture-frame { margin-top: 2.4em; }
.picture-frame > summary { padding-bottom: 0.35em; border-bottom: 1px solid var(--rule); cursor: pointer; }
.picture-frame > summary h2 { display: inline; margin: 0; padding: 0; border: 0; }
.picture-frame > p, .picture-frame > .picker { margin-top: 0.7em; }
.picker { display: block; }
.picker select { max-width: 100%; padding: 0.15em 0.3em; color: inherit; background: var(--paper); border: 1px solid var(--rule); border-radius: 2px; font: inherit; }
.picture { margin-top: 0.7em; overflow-x: auto; }
.budget .picture svg { overflow: hidden; }
.budget .picture .plot { max-width: 100%; min-width: 34em; height: auto; }
.picture .part, .picture .wire, .picture .wire-label, .picture .splice { cursor: pointer; }
.picture .frame:focus { outline: none; }
.picture .frame:focus-visible { stroke: var(--focus); stroke-width: 2; stroke-dasharray: 4 2; }
.behind { margin-top: 0.5em; }
.behind summary { color: var(--dim); cursor: pointer; }
.wide { overflow-x: auto; }
.budget .words-table caption { padding-top: 0.6em; text-align: left; color: var(--dim); }
.budget .words-table th, .budget .words-table td { padding-right: 0.9em; padding-left: 0; text-align: left; }
.number { display: inline-block; min-width: 1.5em; padding: 0 0.2em; border: 1px solid currentColor; border-radius: 1em; text-align: center; font-size: 0.85em; font-weight: 600; }
`;
