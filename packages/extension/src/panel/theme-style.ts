/** What every page of the extension has: the editor's colours and type. Its colours for findings are made for marks: as text they lack contrast. */

export const themeStyle = `
:root {
  --mono: var(--vscode-editor-font-family, monospace);
  --paper: var(--vscode-editor-background);
  --ink: var(--vscode-foreground);
  --dim: var(--vscode-descriptionForeground);
  --rule: var(--vscode-contrastBorder, var(--vscode-panel-border, var(--vscode-widget-border)));
  --track: var(--vscode-scrollbarSlider-background);
  --soft: var(--vscode-progressBar-background);
  --strong: var(--vscode-charts-blue);
  --band: var(--vscode-textBlockQuote-background);
  --edge: var(--vscode-charts-green);
  --error: color-mix(in srgb, var(--vscode-errorForeground) 60%, var(--vscode-foreground));
  --warning: color-mix(in srgb, var(--vscode-editorWarning-foreground) 60%, var(--vscode-foreground));
  --note: color-mix(in srgb, var(--vscode-editorInfo-foreground) 60%, var(--vscode-foreground));
}
body.vscode-dark, body.vscode-high-contrast:not(.vscode-high-contrast-light) { color-scheme: dark; }
body { padding: 1.4em 1.6em 3em; color: var(--ink); background: var(--paper); font-family: var(--vscode-font-family); font-size: var(--vscode-font-size); }
.empty { color: var(--dim); }
button { margin: 0; padding: 0; border: 0; background: none; color: inherit; font: inherit; text-align: inherit; cursor: pointer; }
.name { color: var(--vscode-textLink-foreground); }
h3 .name { font-weight: 600; }
button:hover .message, .name:hover { text-decoration: underline; }
a { color: var(--vscode-textLink-foreground); text-decoration: underline; }
:focus-visible { outline: 1px solid var(--vscode-focusBorder); outline-offset: 2px; }
`;
