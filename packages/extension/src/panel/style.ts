/** The panel's sheet: the budget's own, in the colours and type of the editor's theme. Written to dist/panel.css by the build. */

import { budgetStyle, drawingStyle, panelPartsStyle, plotStyle } from '@ohmstead/views/style';
import { themeStyle } from './theme-style.js';

const budgetPanelStyle = `
:root { --focus: var(--vscode-focusBorder); }
.budget > *, .empty { max-width: 52em; }
/* It is drawn for all of the panel's width. */
.budget > #drawing { max-width: none; }
.states { display: flex; flex-wrap: wrap; gap: 0.3em 1.2em; margin: 1.6em 0 0; padding: 0.5em 0.9em 0.6em; border: 1px solid var(--rule); border-radius: 3px; }
.states legend { padding: 0 0.4em; margin-left: -0.4em; color: var(--dim); font-size: 0.92em; }
.choice { display: inline-flex; align-items: center; gap: 0.4em; cursor: pointer; }
.choice input { margin: 0; accent-color: var(--vscode-focusBorder); }
.budget tr.shown { background: var(--vscode-list-inactiveSelectionBackground); }
.budget .now { margin-top: 0.2em; }
.budget .part.marked::before { content: ""; position: absolute; left: -0.9em; top: 1.1em; bottom: 1.1em; width: 3px; background: var(--vscode-focusBorder); }
.budget .part.marked h3::after { content: " at cursor"; margin-left: 0.5em; color: var(--dim); font-size: 0.85em; font-weight: 400; }
.budget .stale { margin: 0 0 1.2em; padding: 0.5em 0.9em; border: 1px dashed var(--warning); }
.is-stale .bar rect, .is-stale .gauge rect { opacity: 0.55; }
@media (prefers-reduced-motion: no-preference) { .bar rect, .gauge rect { transition: x 120ms, width 120ms; } }
@media (max-width: 420px) { body { padding: 1em 1.1em 2em; } }
`;

export const panelStyle = themeStyle + budgetPanelStyle + budgetStyle + drawingStyle + plotStyle + panelPartsStyle;
