import type { Context, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { isNamed } from './access/names.ts';
import type { Reach } from './context.ts';
import { problemResponse, RequestProblem } from './problem.ts';

/** Largest body that is not an uploaded file, bytes: an experiment file as JSON, with room for escapes. */
const largestBody = 4 << 20;

const policy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "frame-ancestors 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const headers: readonly (readonly [name: string, value: string])[] = [
  ['content-security-policy', policy],
  ['x-content-type-options', 'nosniff'],
  ['referrer-policy', 'no-referrer'],
  ['x-frame-options', 'DENY'],
  ['cross-origin-opener-policy', 'same-origin'],
  ['cross-origin-resource-policy', 'same-origin'],
  ['permissions-policy', 'camera=(), geolocation=(), microphone=()'],
];

/** Puts the headers that keep a page to itself on every answer, errors among them. */
export const safeHeaders: MiddlewareHandler = async (c, next) => {
  await next();
  for (const [name, value] of headers) c.res.headers.set(name, value);
  if (!c.res.headers.has('cache-control')) c.res.headers.set('cache-control', 'no-store');
};

/**
 * Lets only requests through that name this server as their host: a foreign page whose name was made to point here
 * (DNS rebinding) still sends its own name.
 */
export function ownHostOnly({ names }: Reach): MiddlewareHandler {
  return async (c, next) => {
    // An absolute target names a host of its own, before that of the header (RFC 9112, 3.2.2).
    const target = new URL(c.req.url).host;
    if ([hostOf(c), target].every((name) => isNamed(name, names))) return next();
    return problemResponse(
      c,
      new RequestProblem(
        'misdirected-request',
        'The request was meant for a host of another name.',
        'Open an address that the command printed; behind a name of its own, say it with --name.',
      ),
    );
  };
}

function hostOf(c: Context): string {
  return c.req.header('host') ?? new URL(c.req.url).host;
}

const reading: readonly string[] = ['GET', 'HEAD', 'OPTIONS'];

/**
 * Refuses writes that another site's page sends (RFC 6454 origins; Sec-Fetch-Site as browsers send it). Programs that
 * send neither header are no browsers, and no page can make one of them.
 */
export function ownPageWrites(reach: Reach): MiddlewareHandler {
  const own = ownPageOnly(reach);
  return async (c, next) => (reading.includes(c.req.method) ? next() : own(c, next));
}

/**
 * Refuses the same for any method: what takes this machine a while to make, a foreign page must not ask for a hundred
 * times.
 */
export function ownPageOnly({ scheme }: Reach): MiddlewareHandler {
  return async (c, next) => {
    const site = c.req.header('sec-fetch-site');
    const origin = c.req.header('origin');
    const ownSite = site === undefined || site === 'same-origin' || site === 'none';
    const own = `${scheme}://${hostOf(c).toLowerCase()}`;
    if (ownSite && (origin === undefined || origin.toLowerCase() === own)) return next();
    return problemResponse(
      c,
      new RequestProblem(
        'foreign-request',
        'The request comes from the page of another site.',
        'Do it on the page of this server.',
      ),
    );
  };
}

/** Where the body of a write is a file, in whatever type its browser thinks it is of; of any size. */
const isUpload = (path: string): boolean =>
  path === '/api/uploads' ||
  path === '/api/transfers' ||
  /^\/api\/(?:transfers|handed-in)\/[^/]+$/.test(path);
/** The same for sheets, which are small. */
const sheets: readonly string[] = ['/api/sheets', '/api/mine/sheets'];

/** Every other body is JSON and says so: pages of other sites cannot say so without asking first. */
export const jsonOnly: MiddlewareHandler = async (c, next) => {
  if (reading.includes(c.req.method) || isUpload(c.req.path) || sheets.includes(c.req.path)) return next();
  if (/^application\/json\s*(?:;|$)/i.test(c.req.header('content-type') ?? '')) return next();
  return problemResponse(
    c,
    new RequestProblem(
      'wrong-content',
      'The content of this request is not marked as JSON.',
      'Send it with the header content-type: application/json.',
    ),
  );
};

const limited = bodyLimit({
  maxSize: largestBody,
  onError: (c) => {
    return problemResponse(
      c,
      new RequestProblem('too-large', 'The request is larger than 4 MiB.', 'Send only what is asked for.'),
    );
  },
});

/** Refuses bodies that are larger than any but an uploaded file can be. */
export const smallBodies: MiddlewareHandler = (c, next) => {
  return isUpload(c.req.path) ? next() : limited(c, next);
};
