/** Analyzes recordings for a list, in a thread of its own: takes orders as messages and answers each. */
import { parentPort } from 'node:worker_threads';
import { analyzeForList, type ListOrder } from './list-work.ts';

parentPort?.on('message', (order: ListOrder) => {
  void analyzeForList(order).then((answer) => parentPort?.postMessage(answer));
});
