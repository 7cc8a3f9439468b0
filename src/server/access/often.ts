import type { MiddlewareHandler } from 'hono';
import { addressOf } from './address.ts';
import { limit } from './limits.ts';
import { tokenOf } from './room.ts';

/** Requests in a minute: of one device that has signed in, of one address from which nobody has. */
const mostOfDevice = 900;
const mostFromAddress = 1800;

/**
 * Holds each device to what a busy page asks for, so that one that runs wild does not stop the others. For the calls,
 * not for the files of the page: a class that comes in by one address loads them at once.
 */
export function notTooOften(): MiddlewareHandler {
  const device = limit(mostOfDevice, 60, 'requests from this device');
  const address = limit(mostFromAddress, 60, 'requests from this address');
  return async (c, next) => {
    const token = tokenOf(c);
    const known = token !== null && (c.get('caller') ?? null) !== null;
    await (known ? device.take(token) : address.take(addressOf(c)));
    return next();
  };
}
