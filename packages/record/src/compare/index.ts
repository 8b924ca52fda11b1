export { type ComparedSide, compareRecords, newFindings, sameInstallation } from './compare.js';
export * from './types.js';
export { isToldByItself } from './by-itself.js';
export { unchangedNames } from './unchanged.js';
