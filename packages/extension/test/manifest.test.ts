// The manifest promises commands, settings and files: each must be there, and nothing beyond them.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { settingsFrom } from '../../language/src/server/settings.js';
import { withSettings } from '../write-settings.mjs';

const here = new URL('..', import.meta.url).pathname;
const read = (path: string) => readFileSync(join(here, path), 'utf8');
const manifest = JSON.parse(read('package.json'));
const contributes = manifest.contributes;
const sources = readdirSync(join(here, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => read(join('src', file)))
  .join('\n');
const readme = read('README.md').replace(/ +/g, ' ');

/** Settings that change what the server reads out of the section, each given the other value than its default. */
const otherValues: Record<string, unknown> = {
  'inlayHints.volts': { inlayHints: { volts: true } },
  levels: { levels: { 'drop-high': 'off' } },
};
const serverSettings = Object.keys(otherValues).filter(
  (key) => JSON.stringify(settingsFrom(otherValues[key])) !== JSON.stringify(settingsFrom({})),
);

const commands: string[] = contributes.commands.map((each: { command: string }) => each.command);
const settings: string[] = Object.keys(contributes.configuration.properties);

test('every command in the manifest is registered, and every registered one is in the manifest', () => {
  const registered = [...sources.matchAll(/registerCommand\(\s*'([^']+)'/g)].map((match) => match[1]!);
  expect(registered.sort()).toEqual([...commands].sort());
});

test('every command has the prefix and a row in the README', () => {
  for (const { title, category } of contributes.commands) {
    expect(category).toBe('Ohmstead');
    expect(readme).toContain(`| \`Ohmstead: ${title}\` |`);
  }
});

test('menus, keys and walkthrough call only commands that exist', () => {
  const called = [
    ...Object.values<{ command: string }[]>(contributes.menus).flat(),
    ...(contributes.keybindings as { command: string }[]),
  ].map((each) => each.command);
  const text = JSON.stringify(contributes.walkthroughs);
  const linked = [...text.matchAll(/(?:command|onCommand):([\w.]+)/g)].map((match) => match[1]!);
  expect(linked.length).toBeGreaterThan(2);
  for (const command of [...called, ...linked]) expect(commands).toContain(command);
});

test('the README has the settings as the manifest has them', () => {
  expect(withSettings(read('README.md'), manifest)).toBe(read('README.md'));
});

test('every setting is prefixed, described and read', () => {
  for (const name of settings) {
    const setting = contributes.configuration.properties[name];
    expect(name).toMatch(/^ohmstead\./);
    expect(setting.markdownDescription.length).toBeGreaterThan(20);
    // The client library itself reads the trace setting of its id, and the server those that it answers by.
    const key = name.slice('ohmstead.'.length);
    if (name !== 'ohmstead.trace.server')
      expect(sources.includes(`'${key}'`) || serverSettings.includes(key)).toBe(true);
  }
  const asked = [...sources.matchAll(/getConfiguration\('ohmstead'\)\.get\('([^']+)'/g)].map((match) => match[1]);
  for (const name of asked) expect(settings).toContain(`ohmstead.${name}`);
});

test('every file that the manifest names is there', () => {
  const named = [
    manifest.icon,
    ...contributes.languages.flatMap((each: { configuration: string; icon: { light: string; dark: string } }) => [
      each.configuration,
      each.icon.light,
      each.icon.dark,
    ]),
    ...contributes.grammars.map((each: { path: string }) => each.path),
    ...contributes.snippets.map((each: { path: string }) => each.path),
    ...contributes.walkthroughs.flatMap((each: { steps: { media: { markdown: string } }[] }) =>
      each.steps.map((step) => step.media.markdown),
    ),
  ];
  expect(named.filter((path) => !existsSync(join(here, path)))).toEqual([]);
});

test('the icon is a PNG of 128 by 128', () => {
  const bytes = readFileSync(join(here, manifest.icon));
  expect(bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
  expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([128, 128]);
});

describe('language configuration', () => {
  const configuration = JSON.parse(read('language-configuration.json'));

  test('has one word for a name with hyphens', () => {
    const word = new RegExp(configuration.wordPattern.pattern, `g${configuration.wordPattern.flags}`);
    expect('run tx-to-hall : 18/2 from gäste-wc'.match(word)).toEqual([
      'run',
      'tx-to-hall',
      '18',
      '2',
      'from',
      'gäste-wc',
    ]);
    expect('porch-button.a'.match(word)).toEqual(['porch-button', 'a']);
  });

  test('indents after an opening brace', () => {
    const increase = new RegExp(configuration.indentationRules.increaseIndentPattern);
    expect(increase.test('supply bell-tx : bell-transformer {')).toBe(true);
    expect(increase.test('place porch { outdoor }')).toBe(false);
    expect(new RegExp(configuration.indentationRules.decreaseIndentPattern).test('}')).toBe(true);
  });
});

test('there is a snippet for every statement', () => {
  const statements =
    'wiring profile import place supply device splice run jumper pigtail box ground readings accept changes replace remove relocate move land lift'.split(
      ' ',
    );
  const snippets: { prefix: string; body: string[]; description: string }[] = Object.values(
    JSON.parse(read('snippets/ohmstead.code-snippets')),
  );
  const started = snippets.map(({ body }) => body[0]!.split(' ')[0]);
  expect(statements.filter((word) => !started.includes(word))).toEqual([]);
  const types = snippets.map(({ body }) => body[0]!).filter((line) => / type /.test(line));
  expect(types.map((line) => line.split(' ')[0]).sort()).toEqual(['cable', 'device', 'supply']);
  expect(new Set(snippets.map(({ prefix }) => prefix)).size).toBe(snippets.length);
  for (const { description } of snippets) expect(description).not.toBe('');
});
