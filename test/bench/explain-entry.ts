export { casesOf, missOf, shortfalls, tableOf, tallies } from '../explain/proof.js';
export { examples, randomRecords } from '../explain/records.js';
export { explain } from '../../packages/record/src/index.js';
