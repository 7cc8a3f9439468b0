import { limit } from './access/limits.ts';
import { RequestProblem } from './problem.ts';

/** Holds back owners that begin too much at once. */
export interface UploadRate {
  /**
   * Counts one more file of an owner.
   *
   * @throws RequestProblem where there were too many within a minute
   */
  begin(owner: string): Promise<void>;
  /**
   * Does work that takes bytes in.
   *
   * @throws RequestProblem where the owner sends too much side by side
   */
  taking<T>(owner: string, work: () => Promise<T>): Promise<T>;
}

/** A whole evening of recordings sent at once by `emberline send` fits; a script that runs wild does not. */
const beginsInMinute = 240;
/** A bench has a few browser windows at most; the staff may send for all of them. */
const atOnce = 16;

/** Counts within this process. */
export function openUploadRate(): UploadRate {
  const begun = limit(beginsInMinute, 60, 'files begun within a minute');
  const taking = new Map<string, number>();
  return {
    begin: (owner) => begun.take(owner),
    taking: async (owner, work) => {
      const running = taking.get(owner) ?? 0;
      if (running >= atOnce) {
        throw new RequestProblem(
          'too-often',
          `${atOnce} files are being sent side by side already.`,
          'Wait until one of them is through, and go on.',
        );
      }
      taking.set(owner, running + 1);
      try {
        return await work();
      } finally {
        const left = (taking.get(owner) ?? 1) - 1;
        if (left === 0) taking.delete(owner);
        else taking.set(owner, left);
      }
    },
  };
}
