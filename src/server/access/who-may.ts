import type { Context, MiddlewareHandler } from 'hono';
import { matchedRoutes } from 'hono/route';
import { problemResponse, RequestProblem } from '../problem.ts';
import { allows, permissions } from './permissions.ts';

/**
 * Lets a request through where the permissions say so. Stands before every route and after what finds out who asks;
 * whatever the table does not name is refused.
 */
export const whoMay: MiddlewareHandler = async (c, next) => {
  const route = routeOf(c);
  // No route of that address: the answer that says so tells nothing of the folder.
  if (route === null) return next();
  const caller = c.get('caller') ?? null;
  const permission = Object.hasOwn(permissions, route) ? permissions[route] : undefined;
  if (permission !== undefined && allows(permission, caller?.role ?? null)) return next();
  return problemResponse(c, caller === null ? notSignedIn : notAllowed);
};

/** The route that will answer, by method and address, as the permissions name it. */
function routeOf(c: Context): string | null {
  const route = matchedRoutes(c).find(({ method }) => method !== 'ALL');
  return route === undefined ? null : `${route.method} ${route.path}`;
}

const notSignedIn = new RequestProblem(
  'not-signed-in',
  'Nobody has signed in here, or too long ago.',
  'Reload the page, and sign in.',
);

const notAllowed = new RequestProblem(
  'not-allowed',
  'This is not for who is signed in here.',
  'Ask the instructor, or sign in as somebody else.',
);
