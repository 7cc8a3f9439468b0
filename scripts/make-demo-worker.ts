/** Writes recordings of the demo for `npm run demo`, in a thread of its own. */
import { parentPort } from 'node:worker_threads';
import type { Answer, Order } from './demo/crew.ts';
import { writeRecording } from './demo/recordings.ts';

parentPort?.on('message', (order: Order | null) => {
  if (order === null) {
    parentPort?.close();
    return;
  }
  const answer: Answer = { number: order.number, keyed: writeRecording(order.folder, order.recording) };
  parentPort?.postMessage(answer);
});
