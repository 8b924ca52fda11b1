/** How the papers are set: black on white whatever the screen's theme, for A4 and Letter. */

export type SheetSize = 'A4' | 'letter';

export function pageSizeStyle(sheet: SheetSize | undefined): string {
  return `@page { ${sheet === undefined ? '' : `size: ${sheet} portrait; `}margin: 13mm 14mm 15mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8.5pt sans-serif; } }\n`;
}

export const paperStyle = `
:root { color-scheme: light; }
html { background: #fff; color: #000; }
body { margin: 0; color: #000; background: #fff; font: 9.5pt/1.35 system-ui, "Segoe UI", "Liberation Sans", sans-serif; font-variant-numeric: tabular-nums lining-nums; overflow-wrap: break-word; }
.paper { max-width: 183mm; margin: 0 auto; padding: 10mm 0; }
.paper + .paper { border-top: 1px dashed #000; }
.paper header { border-bottom: 1.5pt solid #000; margin-bottom: 3mm; }
.site { margin: 0; font-size: 9pt; }
h1 { margin: 0 0 1mm; font-size: 17pt; line-height: 1.2; }
h2 { margin: 4mm 0 1mm; font-size: 11pt; break-after: avoid; }
p { margin: 2mm 0; max-width: 160mm; }
ul, ol { margin: 2mm 0; padding-left: 5mm; }
li { margin: 1.2mm 0; break-inside: avoid; }
.ticks { list-style: none; padding-left: 0; }
table { width: 100%; border-collapse: collapse; }
table:has(col) { table-layout: fixed; }
/* No sheet begins or ends with a single row of a table, nor with a last line that belongs to it. */
tbody { break-inside: avoid; }
tbody:first-of-type:has(tr:only-child):not(:last-of-type) { break-after: avoid; }
tbody:nth-last-of-type(-n + 2):has(tr:only-child):not(:first-of-type) { break-before: avoid; }
table + p, table + ul, table + dl, table + p + dl { break-before: avoid; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th { text-align: left; font-size: 8.5pt; font-weight: 600; vertical-align: bottom; border-bottom: 1pt solid #000; }
th { overflow-wrap: normal; }
th, td { padding: 0.9mm 2.5mm 0.9mm 0; }
td { border-bottom: 0.4pt solid #999; vertical-align: top; }
.figure { text-align: right; padding-right: 2.5mm; }
.colour { white-space: nowrap; }
.swatch { vertical-align: -0.1em; margin-right: 0.35em; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.swatch-edge { fill: none; stroke: #000; }
.box { display: inline-block; width: 3.4mm; height: 3.4mm; border: 0.8pt solid #000; vertical-align: -0.6mm; }
.line { display: inline-block; min-width: 26mm; height: 1.2em; border-bottom: 0.6pt solid #000; }
td .line { width: 100%; min-width: 15mm; border: 0; }
dl { margin: 2mm 0; }
dl div { display: flex; gap: 4mm; padding: 0.7mm 0; break-inside: avoid; }
dt { flex: 0 0 58mm; font-size: 9pt; }
dd { flex: 1; margin: 0; font-weight: 600; }
dd .line { min-width: 70mm; }
.cards { list-style: none; padding: 0; display: grid; grid-template-columns: repeat(3, 1fr); gap: 4mm; }
.cards li { display: flex; flex-direction: column; margin: 0; break-inside: avoid; }
.goes-on { font-size: 7.5pt; padding-bottom: 0.8mm; }
.card { flex: 1; display: flex; flex-direction: column; border: 0.8pt dashed #000; padding: 2mm; font-size: 8.5pt; line-height: 1.3; }
.card strong { font-size: 11pt; }
.caution { max-width: none; margin: 0 0 2mm; font-size: 8pt; line-height: 1.3; }
@media screen { body { padding: 0 6mm; } }
@media print { .paper { max-width: none; padding: 0; } .paper + .paper { border: 0; break-before: page; } }
`;
