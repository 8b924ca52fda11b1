/** The panel's document: one sheet, one script, nothing inline and nothing from the network. */

export interface ShellParts {
  /** Where the sheet and the script may come from, as the webview names it. */
  readonly source: string;
  readonly style: string;
  readonly script: string;
  /** Fresh for each document. */
  readonly nonce: string;
  /** What the page is called to a screen reader. */
  readonly title: string;
  /** The script starts workers from what it holds itself. */
  readonly workers: boolean;
}

export function panelShell({ source, style, script, nonce, title, workers }: ShellParts): string {
  const policy = `default-src 'none'; style-src ${source}; script-src 'nonce-${nonce}'${workers ? '; worker-src blob:' : ''}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" href="${style}">
</head>
<body>
<main id="root" aria-label="${title}"><p class="empty" role="status">Waiting for the record.</p></main>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>
`;
}
