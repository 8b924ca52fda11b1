/** Documents that ship with the program: the type library's files and the pages of the checks. */

import { library } from '../library.js';
import { LIBRARY_SCHEME } from '../protocol.js';

/** Where the page of a check is served. */
export function pageUri(code: string): string {
  return `${LIBRARY_SCHEME}:/checks/${code}.md`;
}

export function libraryDocument(uri: string): string | undefined {
  return library().textOf(uri);
}
