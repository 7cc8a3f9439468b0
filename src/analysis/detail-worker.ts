/** Tells everything of recordings, in a thread of its own: takes orders as messages and answers each. */
import { parentPort } from 'node:worker_threads';
import { type DetailOrder, detailWork } from './detail-work.ts';

parentPort?.on('message', (order: DetailOrder) => {
  void detailWork(order).then((answer) => parentPort?.postMessage(answer));
});
