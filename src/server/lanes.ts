import { RequestProblem } from './problem.ts';

/** Does work where there is room for it; else it waits for its turn. */
export type Lanes = <T>(work: () => Promise<T>, signal: AbortSignal) => Promise<T>;

const busy = new RequestProblem(
  'busy',
  'Many documents are being made already.',
  'Wait until some of them are there, and ask again.',
);

/**
 * @param lanes how much is done at once, > 0
 * @param most how much may wait
 * @returns throws RequestProblem where too much waits; the reason of the signal where it is given before its turn
 */
export function openLanes(lanes: number, most: number): Lanes {
  const waiting: (() => void)[] = [];
  let taken = 0;
  const turn = (signal: AbortSignal) =>
    new Promise<void>((resolve, reject) => {
      const go = () => {
        signal.removeEventListener('abort', leave);
        resolve();
      };
      const leave = () => {
        waiting.splice(waiting.indexOf(go), 1);
        reject(signal.reason);
      };
      waiting.push(go);
      signal.addEventListener('abort', leave, { once: true });
    });
  return async (work, signal) => {
    signal.throwIfAborted();
    if (taken < lanes) taken += 1;
    else if (waiting.length >= most) throw busy;
    // Whoever ends gives the lane to the next: it stays taken.
    else await turn(signal);
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next === undefined) taken -= 1;
      else next();
    }
  };
}
