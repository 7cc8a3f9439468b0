/** Analyzes recordings for a list, in a thread of its own: takes orders as messages and answers each. */
import { constants, setPriority } from 'node:os';
import { parentPort } from 'node:worker_threads';
import { analyzeForList, type ListOrder } from './list-work.ts';

// Whoever waits for a page goes before a list that fills. Only Linux takes the priority of one thread for itself; elsewhere
// it would be that of the whole program.
if (process.platform === 'linux') setPriority(0, constants.priority.PRIORITY_BELOW_NORMAL);

parentPort?.on('message', (order: ListOrder) => {
  void analyzeForList(order).then((answer) => parentPort?.postMessage(answer));
});
