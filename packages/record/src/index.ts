export * from './analysis-types.js';
export * from './finding.js';
export * from './model.js';
export * from './place-in-record.js';
export * from './budget-types.js';
export * from './checks/index.js';
