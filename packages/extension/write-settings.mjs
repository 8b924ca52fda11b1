// Writes the settings into README.md from the manifest: node packages/extension/write-settings.mjs
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const here = new URL('./', import.meta.url);
const readmeAt = new URL('README.md', here);

const printed = (value) => (typeof value === 'object' ? JSON.stringify(value) : value);
/** A bar would end the cell that it stands in. */
const inCell = (text) => text.replaceAll('|', '\\|').replaceAll('\n', ' ');

/** The table of settings, in the order in which the editor shows them. */
function settingsTable({ contributes }) {
  const settings = Object.entries(contributes.configuration.properties);
  settings.sort(([, one], [, other]) => one.order - other.order);
  const rows = settings.map(
    ([name, { default: value, markdownDescription }]) =>
      `| \`${name}\` | \`${printed(value)}\` | ${inCell(markdownDescription)} |`,
  );
  return [
    '<!-- Made from package.json by write-settings.mjs. -->',
    '',
    '| Setting | Default | What it does |',
    '| --- | --- | --- |',
    ...rows,
    '',
  ].join('\n');
}

export function withSettings(readme, manifest) {
  const table = /(\n## Settings\n\n)[\s\S]*?(?=\n## )/;
  if (!table.test(readme)) throw new Error('README.md has no section "Settings" with another one after it');
  return readme.replace(table, (_, heading) => heading + settingsTable(manifest));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const manifest = JSON.parse(readFileSync(new URL('package.json', here), 'utf8'));
  writeFileSync(readmeAt, withSettings(readFileSync(readmeAt, 'utf8'), manifest));
}
