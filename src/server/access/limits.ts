import { RateLimiterMemory, RateLimiterRes } from 'rate-limiter-flexible';
import { RequestProblem } from '../problem.ts';

/** How often something may be asked for, by whoever asks. */
export interface Limit {
  /** Counts one more. @throws RequestProblem where it is too many */
  take(key: string): Promise<void>;
  /** Whether no more are let through. */
  isSpent(key: string): Promise<boolean>;
}

/**
 * @param most so many
 * @param within s
 * @param what the end of a sentence that begins with "There were too many"
 */
export function limit(most: number, within: number, what: string): Limit {
  const limiter = new RateLimiterMemory({ points: most, duration: within });
  return {
    take: async (key) => {
      await limiter.consume(key).catch((reason: unknown) => {
        if (!(reason instanceof RateLimiterRes)) throw reason;
        throw tooOften(what, reason.msBeforeNext);
      });
    },
    isSpent: async (key) => ((await limiter.get(key))?.remainingPoints ?? 1) <= 0,
  };
}

function tooOften(what: string, wait: number): RequestProblem {
  const minutes = Math.max(1, Math.ceil(wait / 60_000));
  return new RequestProblem(
    'too-often',
    `There were too many ${what}.`,
    `Wait ${minutes === 1 ? 'a minute' : `${minutes} minutes`}, and go on.`,
  );
}
