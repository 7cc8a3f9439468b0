import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import { enterRequest, mineFeedback, mineHandedIn, mineNow, mineView } from './contract/index.ts';
import { fileAnswers, fileResponse } from './file-response.ts';
import { eventBytes, type FloorTelling, floorStreams, sharedEvents } from './floor-stream.ts';
import { mineNowOf, ownTiles } from './mine-now.ts';
import { RequestProblem } from './problem.ts';
import { record, sha256Of } from './record.ts';
import { answers, jsonBody, router } from './routing.ts';

const look = createRoute({
  method: 'get',
  path: '/api/mine',
  summary: 'What the group that is signed in has to record and to hand in, and how far it is',
  responses: answers(mineView, 'Nothing of any other group, and nothing that the group is to work out.'),
});

const lookNow = createRoute({
  method: 'get',
  path: '/api/mine/now',
  summary: 'The bench of the group as it is now',
  responses: answers(mineNow, 'Its trial, what to do, and what the checks of its rig say.'),
});

const events = createRoute({
  method: 'get',
  path: '/api/mine/events',
  summary: 'Watches the bench of the group, for as long as somebody listens',
  responses: {
    200: {
      description:
        'Server-sent events: `now` with what GET /api/mine/now answers, at most twice a second; `mine` where GET /api/mine has something new; `here` now and then, where nothing happens.',
      content: { 'text/event-stream': { schema: z.string() } },
    },
  },
});

const readValues = createRoute({
  method: 'get',
  path: '/api/mine/submission',
  summary: 'The values of the group that count, as it wrote them',
  responses: answers(mineHandedIn, 'Without what they are held against.'),
});

const enter = createRoute({
  method: 'post',
  path: '/api/mine/submission',
  summary: 'Hand typed values in; they take the place of those before',
  request: jsonBody(enterRequest),
  responses: answers(mineHandedIn, 'What counts now.'),
});

const take = createRoute({
  method: 'post',
  path: '/api/mine/sheets',
  summary: 'Hand a sheet in; its bytes are the body, and of a group the latest counts',
  request: {
    query: z.object({ name: z.string().min(1).max(200).describe('What the file is called.') }),
    body: { content: { 'application/octet-stream': { schema: z.string().meta({ format: 'binary' }) } } },
  },
  responses: answers(mineHandedIn, 'What counts now.'),
});

const feedback = createRoute({
  method: 'get',
  path: '/api/mine/feedback',
  summary: 'What there is to say of the values of the group, and its time constants, once they are released',
  responses: answers(mineFeedback, 'Refused before the release.'),
});

const benchSheet = createRoute({
  method: 'get',
  path: '/api/mine/bench-sheet',
  summary: 'The sheet for the bench, without expected time constants',
  responses: fileAnswers('A page to print and write on.', ['application/pdf']),
});

/** The routes of a group: each is about the group that is signed in, and takes no other. */
export function mineRoutes(context: ServerContext): OpenAPIHono {
  const { mine, floor, recordings, downloads, trail } = context;
  const routes = router();
  const streams = floorStreams(context);
  const shared = sharedEvents();
  const listening = new Map<string, number>();

  routes.openapi(look, async (c) => c.json(await mine.view(groupAsking(c)), 200));
  routes.openapi(lookNow, async (c) => {
    const own = mine.bench(groupAsking(c));
    return c.json(mineNowOf(await floor.now(), own), 200);
  });
  routes.openapi(events, (c) => {
    const group = groupAsking(c);
    if ((listening.get(group) ?? 0) >= mostOfOneGroup) {
      throw new RequestProblem(
        'too-often',
        'Many pages of your group listen already.',
        'Close some of them.',
      );
    }
    const event: FloorTelling['event'] = (now, due) => {
      const own = mine.bench(group);
      return ownTiles(now, own).some((bench) => due.has(bench)) || due.size === now.benches.length
        ? shared(now, JSON.stringify(own), () => eventBytes('now', mineNowOf(now, own)))
        : null;
    };
    return streams(c, { event, besides: (send) => whereItChanges(group, send) });
  });
  routes.openapi(readValues, async (c) => {
    return c.json({ submission: await mine.submission(groupAsking(c)) }, 200);
  });
  routes.openapi(enter, async (c) => {
    const group = groupAsking(c);
    const submission = await mine.enter(group, c.req.valid('json'), ({ path, bytes }) => {
      const note = `of group ${group}`;
      return record(trail, c, { deed: 'values-entered', about: path, sha256: sha256Of(bytes), note });
    });
    return c.json({ submission }, 200);
  });
  routes.openapi(take, async (c) => {
    const bytes = new Uint8Array(await c.req.raw.arrayBuffer());
    if (bytes.length === 0) {
      throw new RequestProblem('bad-request', 'The sheet is empty.', 'Choose the file again.');
    }
    const { name } = c.req.valid('query');
    const submission = await mine.take(groupAsking(c), name, bytes, ({ path }) => {
      const note = `handed over as ${name}`;
      return record(trail, c, { deed: 'sheet-taken', about: path, sha256: sha256Of(bytes), note });
    });
    return c.json({ submission }, 200);
  });
  routes.openapi(feedback, async (c) => c.json(await mine.feedback(groupAsking(c)), 200));
  routes.openapi(benchSheet, async (c) => {
    groupAsking(c);
    const order = { kind: 'plain-bench-sheet', format: 'pdf', figures: null, paper: null } as const;
    return fileResponse(c, await downloads.make(order, c.req.raw.signal));
  });

  /** Says so where something of a group's recordings, or the release, changes; not more often than it can be read. */
  const whereItChanges = (group: string, send: (event: Uint8Array) => boolean) => {
    let known: string | null = null;
    let waiting: NodeJS.Timeout | null = null;
    const look = async () => {
      waiting = null;
      const state = await mine.state(group).catch(() => '');
      if (known !== null && state !== known && !send(eventBytes('mine', {}))) again();
      else known = state;
    };
    const again = () => {
      waiting ??= setTimeout(() => void look(), pause);
    };
    void look();
    listening.set(group, (listening.get(group) ?? 0) + 1);
    const stop = recordings.listen(() => again());
    return () => {
      stop();
      listening.set(group, (listening.get(group) ?? 1) - 1);
      if (waiting !== null) clearTimeout(waiting);
    };
  };
  return routes;
}

/** While many recordings are analyzed it is looked so often whether one of the group is among them, ms. */
const pause = 500;
/** Devices of one group, and some to spare: a hundred are there for the class. */
const mostOfOneGroup = 8;

/** The group that asks. The permissions let nobody else here. */
function groupAsking(c: Context): string {
  const { group } = callerOf(c);
  if (group !== null) return group;
  throw new RequestProblem(
    'not-allowed',
    'Only a group has a bench of its own.',
    'Sign in as a group, or look at the floor.',
  );
}
