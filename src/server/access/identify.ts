import type { Context, MiddlewareHandler } from 'hono';
import { type Caller, callerAs } from './caller.ts';

/** Finds out who asks. */
export interface Identity {
  /** @returns null where nobody has signed in */
  callerOf(c: Context): Promise<Caller | null>;
}

/** On a server that only its own machine reaches, whoever asks has the folder anyway. */
export const ownMachine: Identity = {
  callerOf: async () => callerAs('instructor'),
};

/** Writes beside each request who asks. */
export function identify(identity: Identity): MiddlewareHandler {
  return async (c, next) => {
    c.set('caller', await identity.callerOf(c));
    return next();
  };
}
