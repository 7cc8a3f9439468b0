/** Works through recordings for `npm run prove`, in a thread of its own. */
import { parentPort, workerData } from 'node:worker_threads';
import { openDesk } from './prove/desk.ts';
import { type Job, workThrough } from './prove/jobs.ts';

const seed = Number(workerData.seed);
const desk = openDesk();

parentPort?.on('message', async (job: Job | 'end') => {
  if (job !== 'end') {
    parentPort?.postMessage(await workThrough(desk, job, seed));
    return;
  }
  desk.close();
  parentPort?.close();
});
