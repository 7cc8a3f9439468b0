import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { ExperimentFileError, type RoomAccess, readExperiment, shownCode } from '../store/index.ts';
import { callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import { codeRequest, endRequest, type RoomView, roomView } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { answers, jsonBody, router } from './routing.ts';

const read = createRoute({
  method: 'get',
  path: '/api/room',
  summary: 'Where others reach this server, what lets them in, and who is there',
  responses: answers(roomView, 'Codes as they are handed out.'),
});

const renew = createRoute({
  method: 'post',
  path: '/api/room/codes',
  summary: 'Make a new code in place of one that went astray; who came by the old one is signed out',
  request: jsonBody(codeRequest),
  responses: answers(roomView, 'The room as it is then.'),
});

const end = createRoute({
  method: 'post',
  path: '/api/room/ends',
  summary: 'Sign somebody out on all devices',
  request: jsonBody(endRequest),
  responses: answers(roomView, 'The room as it is then.'),
});

/** The routes of the room, for the instructor. */
export function roomRoutes({ folder, room, reach, trail }: ServerContext): OpenAPIHono {
  const routes = router();

  const opened = () => {
    if (room !== null) return room;
    throw new RequestProblem(
      'unfit',
      'This server is not open to others: only its own machine reaches it.',
      'Start it with --room.',
    );
  };

  const view = async (access: RoomAccess): Promise<RoomView> => {
    const sections = await sectionsIn(folder);
    return {
      addresses: [...reach.addresses],
      fingerprint: reach.fingerprint,
      assistant: shownCode(access.assistant),
      display: shownCode(access.display),
      groups: [...access.groups]
        .filter(([group]) => sections.has(group))
        .map(([group, code]) => ({ group, section: sections.get(group) ?? null, code: shownCode(code) })),
      signedIn: opened()
        .sessions.list()
        .map(({ caller, seen, devices }) => ({ label: caller.label, seen, devices })),
    };
  };

  routes.openapi(read, async (c) => c.json(await view(await opened().access()), 200));

  routes.openapi(renew, async (c) => {
    const { of } = c.req.valid('json');
    const known = await opened().access();
    if (typeof of !== 'string' && !known.groups.has(of.group)) throw noSuchGroup;
    const about = typeof of === 'string' ? of : `group ${of.group}`;
    const access = await opened().renew(of);
    await trail.write({ who: callerOf(c), deed: 'codes-made', note: `for ${about}` });
    return c.json(await view(access), 200);
  });

  routes.openapi(end, async (c) => {
    const { label } = c.req.valid('json');
    await opened().sessions.endOf((caller) => caller.label === label);
    await trail.write({ who: callerOf(c), deed: 'signed-out', note: `${label}, on all devices` });
    return c.json(await view(await opened().access()), 200);
  });
  return routes;
}

const noSuchGroup = new RequestProblem(
  'unfit',
  'The experiment has no group of this code.',
  'Take one of those on the page.',
);

/** Sections by group; none where the experiment file has faults. */
async function sectionsIn(folder: string): Promise<ReadonlyMap<string, string | null>> {
  return readExperiment(folder).then(
    ({ groups }) => new Map(Object.entries(groups).map(([code, { section }]) => [code, section ?? null])),
    (error: unknown) => {
      if (error instanceof ExperimentFileError) return new Map();
      throw error;
    },
  );
}
