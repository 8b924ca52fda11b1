export * from './types.js';
export { workOrder, workOrders } from './work-order.js';
