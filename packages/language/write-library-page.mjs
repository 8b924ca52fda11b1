// Writes LIBRARY.md from the type library: node packages/language/write-library-page.mjs
import { writeFileSync } from 'node:fs';
import { loadSource } from './load-source.mjs';

const here = new URL('./', import.meta.url);
const { libraryPage } = await loadSource(new URL('src/library-page.ts', here));
writeFileSync(new URL('LIBRARY.md', here), libraryPage());
