/** How explanations are set, over the sheet of comparisons. Colours come as custom properties from the page or panel. */
export const explainStyle = `
.explain .next p { margin-top: 0.6em; padding: 0.6em 0.9em; border: 1px solid var(--rule); border-left: 3px solid var(--strong); }
.explain .faults > li { padding-left: 0.3em; }
.explain .faults p { margin-top: 0.2em; }
.explain .share { display: block; width: 100%; max-width: 22em; height: 4px; margin: 0.35em 0; }
.explain .share .track { fill: var(--track); }
.explain .share .part { fill: var(--strong); }
.explain details { margin-top: 0.3em; }
.explain summary { cursor: pointer; color: var(--dim); font-size: 0.92em; }
.explain details ul { padding-left: 1em; }
.explain .fits { color: var(--dim); }
.explain .off { color: var(--warning); font-weight: 600; }
.explain tr.off th, .explain tr.off td { font-weight: 600; }
.explain table td:last-child, .explain th.words { text-align: left; }
.explain tbody th, .explain tbody td { vertical-align: top; }
.explain .excluded tbody th { width: 55%; }
@media (max-width: 34em) { .explain .excluded thead { display: none; } .explain .excluded tr, .explain .excluded tbody th, .explain .excluded td { display: block; width: auto; padding-left: 0; } }
.explain footer { margin-top: 2em; }
.explain footer p + p { margin-top: 0.6em; }
`;
