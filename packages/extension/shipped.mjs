/** Paths that ship, by where they come from in this folder; nothing else gets into the package. */
export const shipped = [
  'dist/extension.js',
  'dist/client.js',
  'dist/start-server.js',
  'dist/server.js',
  'dist/package.json',
  'dist/layout.js',
  'dist/panel.js',
  'dist/panel.css',
  'dist/compare.js',
  'dist/compare.css',
  'dist/explain.js',
  'dist/explain.css',
  'dist/NOTICES.txt',
  'media/icon.png',
  'media/record.svg',
  'syntaxes',
  'snippets',
  'walkthrough',
  'language-configuration.json',
  'README.md',
  'CHANGELOG.md',
];

/** Those that ship once they are there: the picture of the panel. */
export const shippedWhereThere = ['images'];
