/** The colours and the sheet of the standalone page. The panel takes its colours from the editor's theme instead. */

export const lightColours = {
  paper: '#fdfdfb',
  ink: '#1d2125',
  dim: '#565d64',
  rule: '#d9dad4',
  track: '#eceee8',
  soft: '#668ba6',
  strong: '#23597d',
  band: '#f0f4ee',
  edge: '#5d7a5f',
  error: '#a3231b',
  warning: '#7d5200',
  note: '#23597d',
} as const;

export const darkColours = {
  paper: '#16191c',
  ink: '#e6e8e6',
  dim: '#a2a9ae',
  rule: '#343a3f',
  track: '#262b30',
  soft: '#5b87a6',
  strong: '#8cc0e3',
  band: '#1f2823',
  edge: '#86a98a',
  error: '#ff9a90',
  warning: '#e8b85c',
  note: '#8cc0e3',
} as const;

const declared = (colours: Record<string, string>): string =>
  Object.entries(colours)
    .map(([name, value]) => `--${name}: ${value};`)
    .join(' ');

export const pageStyle = `
:root { color-scheme: light dark; --mono: ui-monospace, "Liberation Mono", monospace; ${declared(lightColours)} }
@media (prefers-color-scheme: dark) { :root { ${declared(darkColours)} } }
@media print { :root { color-scheme: light; ${declared({ ...lightColours, paper: '#ffffff' })} } }
html { background: var(--paper); }
body { margin: 0; padding: clamp(1.25rem, 5vw, 4rem); font: 15px/1.5 system-ui, "Segoe UI", "Liberation Sans", sans-serif; }
.budget { max-width: 46rem; margin: 0 auto; }
.name { font-weight: 600; }
@page { margin: 16mm; }
@media print { body { padding: 0; font-size: 10.5pt; } .budget { max-width: none; } }
`;
