import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context } from 'hono';

/**
 * From where a request comes, as far as can be known: the far end of the connection, or behind a proxy of this machine
 * what the proxy put last into X-Forwarded-For. What stands before that, anybody can have written.
 */
export function addressOf(c: Context): string {
  const far = farEnd(c);
  const last = c.req.header('x-forwarded-for')?.split(',').at(-1)?.trim() ?? '';
  return isOwn(far) && /^[0-9a-f.:]{2,45}$/i.test(last) ? last : far;
}

function isOwn(address: string): boolean {
  return /^(?:::1|(?:::ffff:)?127\.\d+\.\d+\.\d+)$/.test(address);
}

function farEnd(c: Context): string {
  try {
    return getConnInfo(c).remote.address ?? 'unknown';
  } catch {
    // A request that did not come by a socket.
    return 'unknown';
  }
}
