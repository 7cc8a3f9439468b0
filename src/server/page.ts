import { createReadStream } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { Context, Handler } from 'hono';
import { problemResponse, RequestProblem } from './problem.ts';

const types: Readonly<Record<string, string>> = {
  css: 'text/css; charset=utf-8',
  html: 'text/html; charset=utf-8',
  ico: 'image/x-icon',
  js: 'text/javascript; charset=utf-8',
  json: 'application/json',
  map: 'application/json',
  png: 'image/png',
  svg: 'image/svg+xml',
  txt: 'text/plain; charset=utf-8',
  webmanifest: 'application/manifest+json',
  woff: 'font/woff',
  woff2: 'font/woff2',
};

/** A page has tens of files. */
const mostFiles = 2000;
const deepest = 6;

/** Files of a page by their addresses. */
export type PageFiles = ReadonlyMap<string, string>;

/**
 * Lists the files of a built page, so that nothing in an address ever becomes a path on the disk.
 *
 * @param folder holds index.html
 * @returns paths on the disk by address; empty where there is no page
 */
export async function pageFiles(folder: string): Promise<PageFiles> {
  const files = new Map<string, string>();
  const waiting = [''];
  for (let at = waiting.pop(); at !== undefined && files.size < mostFiles; at = waiting.pop()) {
    const entries = await readdir(join(folder, at), { withFileTypes: true }).catch(() => []);
    for (const entry of entries) {
      const address = `${at}/${entry.name}`;
      if (entry.isDirectory() && address.split('/').length <= deepest) waiting.push(address);
      if (entry.isFile()) files.set(address, join(folder, address));
    }
  }
  return files;
}

/**
 * Serves a built page: its files under their addresses, and its first page under every other one, for each place of the
 * page has an address of its own.
 *
 * @param files as `pageFiles` lists them now: the page may be built anew while the server runs
 */
export function servePage(files: () => Promise<PageFiles>): Handler {
  return async (c) => {
    const known = await files();
    const path = known.get(c.req.path);
    if (path !== undefined) {
      const packed = takesBrotli(c) ? known.get(`${c.req.path}.br`) : undefined;
      return send(c, packed ?? path, c.req.path, packed !== undefined);
    }
    const first = known.get(programFor(c));
    // A file that is missing must not be answered by a page: a script that is one tells nobody what is wrong.
    if (c.req.path.startsWith('/assets/')) return problemResponse(c, gone);
    return first === undefined ? problemResponse(c, unbuilt) : send(c, first, '/index.html');
  };
}

/** The workbench, or the page by which people come into the room, a group sees its bench, and the instructor the room. */
function programFor(c: Context): string {
  const caller = c.get('caller') ?? null;
  const ofRoom = caller === null || caller.role === 'group';
  return ofRoom || (caller.role === 'instructor' && c.req.path === '/room') ? '/room.html' : '/index.html';
}

const gone = new RequestProblem(
  'not-found',
  'This file is not part of the page; the page may have been built anew.',
  'Reload the page.',
);

const unbuilt = new RequestProblem(
  'not-found',
  'The page has not been built.',
  'Run npm run build, and reload.',
);

/** Whether the browser unpacks Brotli (RFC 7932); a weight of 0 says no (RFC 9110, 12.5.3). */
function takesBrotli(c: Context): boolean {
  const accepted = c.req.header('accept-encoding')?.split(',') ?? [];
  return accepted.some((one) => /^\s*br\s*(?:;\s*q=(?!0(?:\.0*)?\s*$)[\d.]+\s*)?$/.test(one));
}

async function send(c: Context, path: string, address: string, packed = false): Promise<Response> {
  const found = await stat(path).catch(() => null);
  if (found === null) return problemResponse(c, gone);
  const ending = /\.([a-z0-9]+)$/i.exec(address)?.[1]?.toLowerCase() ?? '';
  const headers = {
    'content-type': types[ending] ?? 'application/octet-stream',
    'content-length': String(found.size),
    // Which program it is depends on who is signed in.
    vary: address === '/index.html' ? 'accept-encoding, cookie' : 'accept-encoding',
    ...(packed ? { 'content-encoding': 'br' } : {}),
    // Names under assets change with their content.
    'cache-control': address.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache',
  };
  if (c.req.method === 'HEAD') return c.body(null, 200, headers);
  return c.body(webStream(path), 200, headers);
}

function webStream(path: string): ReadableStream<Uint8Array> {
  // The two declarations of a web stream, of Node and of the browser, differ in name only.
  return Readable.toWeb(createReadStream(path)) as ReadableStream<Uint8Array>;
}
