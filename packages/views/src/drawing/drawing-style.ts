/** How the drawing is set. Where no host sets the custom properties, it has colours of its own for light and dark. */

import { darkColours, lightColours } from '../page-style.js';

/** The host's colour where it has one. */
const own = (colours: Record<string, string>): string =>
  Object.entries(colours)
    .map(([name, value]) => `--d-${name}: var(--${name}, ${value});`)
    .join(' ');

export const drawingStyle = `
.drawing { ${own(lightColours)} font: 12px system-ui, "Segoe UI", "Liberation Sans", sans-serif; }
@media (prefers-color-scheme: dark) { .drawing { ${own(darkColours)} } }
@media print { .drawing { ${own({ ...lightColours, paper: '#ffffff' })} } }
.drawing text { fill: var(--d-ink); }
.drawing .sheet { fill: var(--d-paper); }
.drawing .title { font-size: 17px; font-weight: 600; }
.drawing .caption, .drawing .place text { fill: var(--d-dim); }
.drawing .place rect { fill: none; stroke: var(--d-dim); stroke-dasharray: 6 4; }
.drawing .place text { font-size: 12px; font-weight: 600; }
.drawing .body { fill: var(--d-paper); stroke: var(--d-dim); }
.drawing .name { font-size: 13px; font-weight: 600; }
.drawing .about, .drawing .terminal, .drawing .figure, .drawing .splice text, .drawing .wire-label text { font-size: 10.5px; }
.drawing .about { fill: var(--d-dim); }
.drawing .inner, .drawing .inner path, .drawing .core { fill: none; stroke: var(--d-ink); stroke-width: 1.2; }
.drawing .inner .filled { fill: var(--d-ink); }
.drawing .inner text { stroke: none; }
.drawing .inner.live, .drawing .inner.live path { stroke-width: 2.6; }
.drawing .bridge text { font-weight: 600; }
.drawing .inner.bridge path { stroke-width: 2; }
.drawing .inner.bridge.live path { stroke-width: 3.4; }
.drawing .live text { font-weight: 600; }
.drawing .dot, .drawing .splice rect { fill: var(--d-ink); }
.drawing .screw { fill: var(--d-paper); stroke: var(--d-ink); stroke-width: 1.5; }
.drawing .wire path { fill: none; stroke-linejoin: round; }
.drawing .wire .edge { stroke: var(--d-ink); stroke-width: 4; }
.drawing .wire .insulation { stroke-width: 2.4; }
.drawing .wire .stripe { stroke-dasharray: 7 7; }
.drawing .wire .bare { stroke: var(--d-ink); stroke-width: 1.4; }
.drawing .wire.live .edge { stroke-width: 8; }
.drawing .wire.live .insulation { stroke-width: 5; }
.drawing .wire.live .bare { stroke-width: 4.4; }
.drawing .wire-label rect { fill: var(--d-paper); }
.drawing .mark path, .drawing .mark circle { fill: var(--d-paper); stroke-width: 1.6; }
.drawing .mark text { font-size: 10.5px; font-weight: 700; }
.drawing .error path { stroke: var(--d-error); }
.drawing .error text { fill: var(--d-error); }
.drawing .warning path { stroke: var(--d-warning); }
.drawing .warning text { fill: var(--d-warning); }
.drawing .info circle, .drawing .hint circle { stroke: var(--d-note); }
.drawing .info text, .drawing .hint text { fill: var(--d-note); }
.drawing .note > text { font-size: 12px; }
.drawing .frame { fill: transparent; stroke: none; }
.drawing .at-cursor .frame { stroke: var(--d-strong); stroke-width: 2.5; }
.drawing .at-cursor > text, .drawing .at-cursor .name { text-decoration: underline; }
.drawing .splice.at-cursor rect { stroke: var(--d-strong); stroke-width: 3; }
.drawing .wire.at-cursor .edge, .drawing .wire.at-cursor .bare { stroke: var(--d-strong); stroke-width: 10; }
`;
