/** Documents that ship with the program: the type library's files and the pages of the checks. */

import { checkPages } from '../generated/check-pages.js';
import { library } from '../library.js';
import { LIBRARY_SCHEME } from '../protocol.js';

/** Where the page of a check is served. */
export function pageUri(code: string): string {
  return `${LIBRARY_SCHEME}:/checks/${code}.md`;
}

/** The page of a check, in Markdown. */
export function checkPage(code: string): string | undefined {
  return Object.hasOwn(checkPages, `${code}.md`) ? checkPages[`${code}.md`] : undefined;
}

export function libraryDocument(uri: string): string | undefined {
  const page = /^([\w-]+):\/checks\/([\w-]+)\.md$/.exec(uri);
  return page && page[1] === LIBRARY_SCHEME ? checkPage(page[2]!) : library().textOf(uri);
}
