export { stateLabel, stateWords } from './words.js';
export * from './budget-html.js';
export * from './budget-markdown.js';
export * from './budget-panel.js';
export { budgetStyle } from './budget-style.js';
export * from './budget-text.js';
export type { LocatedFinding, ShownFinding, TextRange } from './budget-view.js';
export * from './papers/index.js';
