export { type ComparedSide, compareRecords, sameInstallation } from './compare.js';
export * from './types.js';
