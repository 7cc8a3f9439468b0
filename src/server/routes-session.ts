import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { deleteCookie, setCookie } from 'hono/cookie';
import { ExperimentFileError, readExperiment, StoreError } from '../store/index.ts';
import { addressOf } from './access/address.ts';
import { type Caller, callerAs } from './access/caller.ts';
import { allows, permissions } from './access/permissions.ts';
import { cookieName, tokenOf } from './access/room.ts';
import { longestSession } from './access/sessions.ts';
import type { ServerContext } from './context.ts';
import { type SessionView, sessionView, signInRequest } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { answers, jsonBody, router } from './routing.ts';

const look = createRoute({
  method: 'get',
  path: '/api/session',
  summary: 'Who is signed in on this device, and what that opens',
  responses: answers(sessionView, 'On the machine of the server itself everybody is the instructor.'),
});

const begin = createRoute({
  method: 'post',
  path: '/api/session',
  summary: 'Sign in; the answer sets a cookie that no script can read',
  request: jsonBody(signInRequest),
  responses: answers(sessionView, 'Who is signed in then.'),
});

const end = createRoute({
  method: 'delete',
  path: '/api/session',
  summary: 'Sign out on this device',
  responses: answers(sessionView, 'Nobody is signed in then.'),
});

/** What each place of the page cannot do without. */
const needs: Readonly<Record<string, keyof typeof permissions>> = {
  experiment: 'GET /api/recordings',
  plan: 'POST /api/experiment/change',
  compare: 'GET /api/compare',
  class: 'GET /api/class',
  add: 'POST /api/uploads',
  floor: 'GET /api/floor',
  rig: 'GET /api/rig',
  submissions: 'GET /api/submissions',
  room: 'GET /api/room',
};

/** The routes by which people come in and go. */
export function sessionRoutes({ folder, room, trail }: ServerContext): OpenAPIHono {
  const routes = router();

  const view = async (caller: Caller | null): Promise<SessionView> => ({
    room: room !== null,
    caller: caller === null ? null : { ...caller },
    course: caller === null ? null : await courseOf(folder),
    places: Object.entries(needs)
      .filter(([place, route]) => {
        const permission = permissions[route] ?? [];
        return caller !== null && allows(permission, caller.role) && (place !== 'room' || room !== null);
      })
      .map(([place]) => place),
  });

  routes.openapi(look, async (c) => c.json(await view(c.get('caller')), 200));

  routes.openapi(begin, async (c) => {
    if (room === null) throw openAnyway;
    const credentials = c.req.valid('json');
    const claimed = callerAs(credentials.as, credentials.as === 'group' ? credentials.group : null);
    const address = addressOf(c);
    const { token, caller } = await room.signIn(credentials, address).catch(async (error: unknown) => {
      if (error instanceof RequestProblem) {
        await trail.write({ who: claimed, deed: 'sign-in-refused', note: address });
      }
      throw error instanceof StoreError
        ? new RequestProblem('cannot-write', error.message, checkDisk)
        : error;
    });
    await trail.write({ who: caller, deed: 'signed-in', note: address });
    // One that was there before, whoever put it there, is good for nothing any more.
    const before = tokenOf(c);
    if (before !== null) await room.signOut(before);
    keepCookie(c, token);
    return c.json(await view(caller), 200);
  });

  routes.openapi(end, async (c) => {
    const token = tokenOf(c);
    const caller = c.get('caller');
    if (room === null || token === null) return c.json(await view(caller), 200);
    await room.signOut(token);
    if (caller !== null) await trail.write({ who: caller, deed: 'signed-out', note: addressOf(c) });
    deleteCookie(c, cookieName, { path: '/', secure: true, prefix: 'host' });
    return c.json(await view(null), 200);
  });
  return routes;
}

/** Unreadable for scripts, sent to this host alone and never with what another site asks for. */
function keepCookie(c: Context, token: string): void {
  setCookie(c, cookieName, token, {
    prefix: 'host',
    path: '/',
    secure: true,
    httpOnly: true,
    sameSite: 'Strict',
    maxAge: longestSession / 1000,
  });
}

async function courseOf(folder: string): Promise<string | null> {
  return readExperiment(folder).then(
    ({ course }) => course ?? null,
    (error: unknown) => {
      if (error instanceof ExperimentFileError) return null;
      throw error;
    },
  );
}

const checkDisk = 'Check the permissions and the room on the disk.';

const openAnyway = new RequestProblem(
  'unfit',
  'Nobody signs in here: only the machine of the server reaches it.',
  'Start it with --room to open it to others.',
);
