/** The fault finder's sheet, in the colours and type of the editor's theme. Written to dist/explain.css by the build. */

import { compareStyle } from '@ohmstead/views/compare-style';
import { explainStyle } from '@ohmstead/views/explain-style';
import { themeStyle } from '../panel/theme-style.js';

const formStyle = `
.explain { margin: 0; max-width: 52em; }
.explain fieldset { margin: 0.9em 0 0; padding: 0.5em 0.9em 0.6em; border: 1px solid var(--rule); border-radius: 3px; }
.explain legend { padding: 0 0.4em; margin-left: -0.4em; color: var(--dim); font-size: 0.92em; }
.explain .states { display: flex; flex-wrap: wrap; gap: 0.3em 1.2em; }
.explain .choice { display: inline-flex; align-items: center; gap: 0.4em; cursor: pointer; }
.explain input[type="radio"], .explain input[type="checkbox"] { margin: 0; accent-color: var(--vscode-focusBorder); }
.explain .terminals { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0.4em; padding: 0.25em 0; }
.explain .terminals .of { min-width: 8em; color: var(--dim); }
.explain .terminal { min-width: 2.4em; padding: 0.15em 0.6em; border: 1px solid var(--rule); border-radius: 3px; text-align: center; font-family: var(--mono); }
.explain .terminal[aria-pressed="true"] { border-color: var(--vscode-focusBorder); background: var(--vscode-list-activeSelectionBackground); color: var(--vscode-list-activeSelectionForeground); font-weight: 600; }
.explain .order::before { content: "\\00b7 "; }
.explain .field { margin-top: 0.9em; }
.explain .field input:not([type="checkbox"]) { padding: 0.25em 0.5em; border: 1px solid var(--vscode-input-border, var(--rule)); border-radius: 2px; color: var(--vscode-input-foreground); background: var(--vscode-input-background); font: inherit; font-family: var(--mono); }
.explain #value { width: 9em; }
.explain #line { width: min(100%, 34em); }
.explain .field input::placeholder { color: var(--vscode-input-placeholderForeground); }
.explain .act { margin-top: 0.8em; padding: 0.35em 0.9em; border: 1px solid var(--vscode-button-border, transparent); border-radius: 2px; color: var(--vscode-button-foreground); background: var(--vscode-button-background); }
.explain .act:hover:not([disabled]) { background: var(--vscode-button-hoverBackground); }
.explain .act[disabled] { opacity: 0.5; cursor: default; }
.explain .refused { margin-top: 0.6em; padding-left: 0.8em; border-left: 3px solid var(--error); }
.explain .taken { margin-top: 0.6em; padding-left: 0.8em; border-left: 3px solid var(--edge); }
.explain .stale { padding: 0.5em 0.9em; border: 1px dashed var(--warning); }
.explain .follow { text-align: left; }
.explain .act + .fine { margin-left: 0.6em; }
.explain .follow:hover { text-decoration: underline; }
`;

export const explainPageStyle = themeStyle + compareStyle + explainStyle + formStyle;
