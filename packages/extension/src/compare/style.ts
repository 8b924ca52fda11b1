/** The comparison's sheet, in the colours and type of the editor's theme. Written to dist/compare.css by the build. */

import { compareStyle } from '@ohmstead/views/compare-style';
import { themeStyle } from '../panel/theme-style.js';

const comparePanelStyle = `
.changes, .empty { max-width: 52em; margin: 0; }
.changes code { padding: 0; background: none; color: inherit; }
.changes .sides { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 16em), 1fr)); gap: 0.5em 2em; margin: 0.8em 0 0; }
.changes dt { color: var(--dim); font-size: 0.92em; }
.changes dd { margin: 0; font-weight: 600; }
.changes dd .fine { display: block; font-weight: 400; }
.changes .summary { margin-top: 0.8em; }
.changes .stale { margin: 0 0 1.2em; padding: 0.5em 0.9em; border: 1px dashed var(--warning); }
.changes details { margin-top: 2.2em; border-top: 1px solid var(--rule); padding-top: 0.6em; }
.changes summary { font-weight: 600; cursor: pointer; }
.changes footer { margin-top: 2.4em; padding-top: 0.8em; border-top: 1px solid var(--rule); }
@media (max-width: 420px) { body { padding: 1em 1.1em 2em; } }
`;

export const comparePageStyle = themeStyle + compareStyle + comparePanelStyle;
