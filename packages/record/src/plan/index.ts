export { applyPlan } from './apply-plan.js';
export * from './types.js';
