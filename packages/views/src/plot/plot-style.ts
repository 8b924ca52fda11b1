/** How plots are set: the drawing's colours, and lines that differ in dash and mark as well. */

import { darkColours, lightColours } from '../page-style.js';

const own = (colours: Record<string, string>): string =>
  Object.entries(colours)
    .map(([name, value]) => `--d-${name}: var(--${name}, ${value});`)
    .join(' ');

export const plotStyle = `
.plot { ${own(lightColours)} font: 12px system-ui, "Segoe UI", "Liberation Sans", sans-serif; font-variant-numeric: tabular-nums; }
@media (prefers-color-scheme: dark) { .plot { ${own(darkColours)} } }
@media print { .plot { ${own({ ...lightColours, paper: '#ffffff' })} } }
.plot text { fill: var(--d-ink); }
.plot .sheet { fill: var(--d-paper); }
.plot .title { font-size: 15px; font-weight: 600; }
.plot .dim { fill: var(--d-dim); }
.plot .grid { fill: none; stroke: var(--d-rule); }
.plot .axis { fill: none; stroke: var(--d-dim); }
.plot .line { fill: none; stroke: var(--d-strong); stroke-width: 2; }
.plot .limit { fill: none; stroke: var(--d-error); stroke-width: 1.5; stroke-dasharray: 6 4; }
.plot .point { fill: var(--d-paper); stroke: var(--d-strong); stroke-width: 2; }
.plot .here { fill: var(--d-ink); }
`;

/** Patterns for the lines of one plot, told apart without colour. */
export const dashes = ['none', '7 4', '2 3', '10 3 2 3', '4 2', '12 5'] as const;
