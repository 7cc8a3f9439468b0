import type { Context } from 'hono';
import type { Role } from '../contract/index.ts';

/** Whoever asks, once they are known. */
export interface Caller {
  readonly role: Role;
  /** Code of the group whose bench it is; null for everybody else. */
  readonly group: string | null;
  /** As the audit trail and other people see them: `group A1`, `instructor`. */
  readonly label: string;
}

declare module 'hono' {
  interface ContextVariableMap {
    /** Null where nobody has signed in. */
    caller: Caller | null;
  }
}

/** Somebody of a role; groups by their code. */
export function callerAs(role: Role, group: string | null = null): Caller {
  return { role, group, label: group === null ? role : `group ${group}` };
}

/**
 * Who asks, where the permissions say that somebody must have signed in.
 *
 * @throws Error where the route is open to everybody: then nobody needs to be known
 */
export function callerOf(c: Context): Caller {
  const caller = c.get('caller');
  if (caller === null || caller === undefined) throw new Error(`${c.req.path}: nobody has signed in.`);
  return caller;
}
