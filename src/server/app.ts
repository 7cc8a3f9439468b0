import { OpenAPIHono } from '@hono/zod-openapi';
import { HTTPException } from 'hono/http-exception';
import { version } from '../version.ts';
import { identify } from './access/identify.ts';
import { notTooOften } from './access/often.ts';
import { whoMay } from './access/who-may.ts';
import type { ServerContext } from './context.ts';
import { jsonOnly, ownHostOnly, ownPageOnly, ownPageWrites, safeHeaders, smallBodies } from './guard.ts';
import { openKeeping } from './keeping.ts';
import { servePage } from './page.ts';
import { problemResponse, RequestProblem } from './problem.ts';
import { classRoutes } from './routes-class.ts';
import { downloadRoutes } from './routes-downloads.ts';
import { eventRoutes } from './routes-events.ts';
import { experimentRoutes } from './routes-experiment.ts';
import { floorRoutes } from './routes-floor.ts';
import { handedInRoutes } from './routes-handed-in.ts';
import { mineRoutes } from './routes-mine.ts';
import { recordingRoutes } from './routes-recordings.ts';
import { releaseRoutes } from './routes-releases.ts';
import { rigRoutes } from './routes-rig.ts';
import { roomRoutes } from './routes-room.ts';
import { sessionRoutes } from './routes-session.ts';
import { submissionRoutes } from './routes-submissions.ts';
import { trailRoutes } from './routes-trail.ts';
import { transferRoutes } from './routes-transfers.ts';
import { uploadRoutes } from './routes-uploads.ts';

/** The server as a function of its context: answers requests without knowing of sockets. */
export function createApp(context: ServerContext): OpenAPIHono {
  const app = new OpenAPIHono();
  const { reach } = context;
  app.use(safeHeaders, ownHostOnly(reach), ownPageWrites(reach), identify(context.identity));
  if (context.room !== null) app.use('/api/*', notTooOften());
  app.use(whoMay);
  app.use('/api/*', smallBodies, jsonOnly);
  app.use('/api/documents/*', ownPageOnly(reach));
  app.use('/api/exports/*', ownPageOnly(reach));
  const keeping = openKeeping(context);
  for (const routes of [
    sessionRoutes,
    roomRoutes,
    experimentRoutes,
    recordingRoutes,
    classRoutes,
    (own: ServerContext) => uploadRoutes(own, keeping),
    (own: ServerContext) => handedInRoutes(own, keeping),
    transferRoutes,
    rigRoutes,
    downloadRoutes,
    submissionRoutes,
    releaseRoutes,
    trailRoutes,
    mineRoutes,
    floorRoutes,
    eventRoutes,
  ]) {
    app.route('/', routes(context));
  }
  app.get('/api/openapi.json', (c) => c.json(documentOf(app)));
  app.all('/api/*', (c) => problemResponse(c, noAddress));
  app.all('/api', (c) => problemResponse(c, noAddress));
  app.get('*', servePage(context.page));
  app.notFound((c) => problemResponse(c, c.req.method === 'GET' ? noAddress : onlyLooking));
  app.onError((error, c) => {
    if (error instanceof RequestProblem) return problemResponse(c, error);
    if (error instanceof HTTPException && error.status < 500) return problemResponse(c, asRefused(error));
    // Where a browser went away in the middle, nobody reads the answer.
    if (!c.req.raw.signal.aborted) context.log(faultText(c.req.method, c.req.path, error));
    return problemResponse(c, ownFault);
  });
  return app;
}

const noAddress = new RequestProblem(
  'not-found',
  'The server knows no such address.',
  'See /api/openapi.json for those that it knows.',
);

const onlyLooking = new RequestProblem(
  'wrong-method',
  'This address can only be looked at.',
  'See /api/openapi.json for those that take something.',
);

const ownFault = new RequestProblem(
  'fault',
  'The server met something that it was not made for. Nothing that was kept is lost.',
  'Try it once more; what happened stands in the terminal in which the server runs.',
);

function asRefused(error: HTTPException): RequestProblem {
  if (error.status === 415) {
    return new RequestProblem(
      'wrong-content',
      'The content is of another type than this address takes.',
      'Send JSON with the header content-type: application/json.',
    );
  }
  return new RequestProblem(
    'bad-request',
    'The content is no JSON.',
    'Send what /api/openapi.json describes.',
  );
}

function faultText(method: string, path: string, error: Error): string {
  return `${method} ${path}: ${error.stack ?? error.message}`;
}

/** What the routes say of themselves. */
function documentOf(app: OpenAPIHono) {
  const document = app.getOpenAPI31Document({
    openapi: '3.1.0',
    info: {
      title: 'Emberline workbench',
      version,
      description:
        'One experiment folder. Times in s, temperatures in °C, differences in K. Whatever cannot be done is answered by problem details (RFC 9457).',
    },
  });
  const paths = Object.entries(document.paths ?? {});
  // A recording's path holds slashes; the pattern by which the router takes them is not part of the address.
  return {
    ...document,
    paths: Object.fromEntries(paths.map(([path, item]) => [path.replace(/:(\w+)\{[^}]*\}/g, '{$1}'), item])),
  };
}
