export { type ComparedSide, compareRecords } from './compare.js';
export * from './types.js';
