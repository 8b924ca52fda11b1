/** Text to record and back: the notation without files, editor or server. */

export { library, type Library } from './library.js';
export { libraryUri, readLibrary } from './read-library.js';
export type { ReaderFinding, TextEdit, TextFix } from './lower/context.js';
export { type KnownTypes, type Lowered, lowerRecord } from './lower/lower.js';
export { NameIndex, type NameKind, type NameSpace, type NameSymbol, type NameUse } from './lower/names.js';
export { rangeOf, type Site, stretchOf, textOf } from './lower/sites.js';
export { SourceMap } from './lower/source-map.js';
export { type DocumentSource, importedUri, importsOf } from './lower/imports.js';
export { type CheckedRecord, type CheckOptions, checkRecord, type LocatedFinding } from './pipeline.js';
export { comparedSide, compareChecked, differingRecords, type VersionText } from './comparison.js';
export { type Reading, readRecord, underProfile } from './read.js';
export { parseWiring, type TextRange, type WiringDocument } from './reading/document.js';
export { nearestNames } from './reading/nearest.js';
export { STATEMENT_WORDS } from './reading/tokens.js';
export { checkPage } from './server/library-documents.js';
export { canonicalLines } from './services/canonical-lines.js';
export { flattenPlan } from './services/flatten.js';
export { unitOf, unitsThatFit } from './reading/units.js';
export { levelsFromFile, WORKSPACE_FILE } from './workspace-file.js';
