/** How comparisons and work orders are set. Colours come as custom properties from the page or panel they stand on. */
export const compareStyle = `
.changes { max-width: 46rem; margin: 0 auto; color: var(--ink); font-variant-numeric: tabular-nums lining-nums; overflow-wrap: break-word; }
.changes h1, .changes h2, .changes h3, .changes p, .changes ul, .changes ol { margin: 0; padding: 0; }
.changes h1 { font-size: 1.6em; font-weight: 600; line-height: 1.25; }
.changes h2 { margin-top: 2.2em; padding-bottom: 0.35em; border-bottom: 1px solid var(--rule); font-size: 1em; font-weight: 600; }
.changes h3 { margin-top: 1.2em; font-size: 1em; font-weight: 600; }
.changes header p { margin-top: 0.4em; }
.changes ul { list-style: none; }
.changes li { padding: 0.35em 0; break-inside: avoid; }
.changes li + li { border-top: 1px solid var(--rule); }
.changes ol { padding-left: 2em; }
.changes .change { display: inline-block; min-width: 5.5em; padding-right: 0.6em; font-weight: 600; }
.changes .caution { padding-left: 0.8em; border-left: 3px solid var(--warning); }
.changes .fine, .changes .when { color: var(--dim); font-size: 0.92em; }
.changes code { font-family: var(--mono); font-size: 0.95em; }
.changes table { width: 100%; margin-top: 0.7em; border-collapse: collapse; }
.changes th, .changes td { padding: 0.28em 0 0.28em 0.9em; text-align: right; vertical-align: baseline; font-weight: 400; }
.changes th:first-child, .changes td.words { padding-left: 0; text-align: left; }
.changes td.words { padding-left: 0.9em; }
.changes thead th { color: var(--dim); font-size: 0.92em; vertical-align: bottom; }
.changes tbody tr { border-top: 1px solid var(--rule); break-inside: avoid; }
.changes .when { display: block; }
.changes .blank { width: 5em; border-bottom: 1px solid var(--ink); }
.changes .unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media print { .changes { max-width: none; } }
`;
