import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { RefusedError, refusal } from './send-answers.ts';
import { type Answer, type Asking, OtherServerError } from './send-http.ts';

/** A file as it is sent. */
export interface SentFile {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

/** What a sender tells meanwhile. */
export interface SendNews {
  /** Bytes that are there or on their way. */
  sent(bytes: number): void;
  /** The connection was lost, and is tried again. */
  lost(why: string): void;
}

/** Waits between tries, ms: the first one is short, for most breaks are. */
const firstWait = 500;
const longestWait = 30_000;
/** So many tries in a row without a single byte more end it: about a quarter of an hour. */
const mostTries = 34;

const version = { 'tus-resumable': '1.0.0' };

/**
 * Sends a file by the resumable upload protocol (tus 1.0.0): begins it or finds what was begun, sends from where the
 * server is, and tries again for as long as a lost connection may come back.
 *
 * @returns id under which the whole file waits on the server
 * @throws RefusedError, OtherServerError; Error where the connection does not come back
 */
export async function transfer(ask: Asking, file: SentFile, news: SendNews): Promise<string> {
  let address: string | null = null;
  let reached = -1;
  for (let tries = 0; ; tries++) {
    try {
      address ??= await begun(ask, file);
      const offset = await offsetOf(ask, address);
      if (offset > reached) tries = 0;
      reached = Math.max(reached, offset);
      news.sent(offset);
      if (offset === file.bytes) return address.split('/').at(-1) ?? '';
      await append(ask, address, file, offset, news);
    } catch (error) {
      const status = error instanceof RefusedError ? error.status : null;
      // The server gave it up meanwhile: begin anew.
      if (status === 404 && address !== null) address = null;
      // It goes on elsewhere, for another one sends the same file.
      else if (status !== 409 && !passes(error)) throw error;
      await waitOn(error, tries, news);
    }
  }
}

/**
 * Asks for something short, and again for as long as a lost connection may come back. Only for what does no harm when
 * it is done twice.
 *
 * @throws as `transfer`
 */
export async function insist<T>(work: () => Promise<T>, news: Pick<SendNews, 'lost'>): Promise<T> {
  for (let tries = 0; ; tries++) {
    try {
      return await work();
    } catch (error) {
      if (!passes(error)) throw error;
      await waitOn(error, tries, news);
    }
  }
}

async function waitOn(error: unknown, tries: number, news: Pick<SendNews, 'lost'>): Promise<void> {
  const why = error instanceof Error ? error.message : String(error);
  if (tries >= mostTries) {
    throw new Error(`the server cannot be reached: ${why}; run the command again, and it goes on from there`);
  }
  news.lost(why);
  await wait(Math.min(longestWait, firstWait * 2 ** tries));
}

/** Statuses that pass: too much at once, a piece that was damaged. */
const passing: readonly number[] = [429, 460];

/** Whether it is worth trying again: what the server has against the file stays so, and what the disk here has too. */
function passes(error: unknown): boolean {
  if (error instanceof RefusedError) return error.status >= 500 || passing.includes(error.status);
  const ofDisk = error instanceof Error && 'path' in error && typeof error.path === 'string';
  return !(error instanceof OtherServerError || error instanceof ChangedFileError || ofDisk);
}

/** The file is not what it was when it was announced. */
class ChangedFileError extends Error {
  override readonly name = 'ChangedFileError';
}

async function begun(ask: Asking, { path, bytes, sha256 }: SentFile): Promise<string> {
  const metadata = Object.entries({ filename: basename(path).slice(0, 300), sha256 });
  const answer = await ask({
    method: 'POST',
    path: '/api/transfers',
    headers: {
      ...version,
      'upload-length': String(bytes),
      'upload-metadata': metadata
        .map(([key, text]) => `${key} ${Buffer.from(text).toString('base64')}`)
        .join(','),
    },
  });
  const location = answer.headers.location;
  if (answer.status !== 201 || location === undefined) throw refusal(answer);
  // An address of the protocol may be a whole one; it is asked for where the server was said to be.
  return new URL(location, 'http://server.invalid').pathname;
}

async function offsetOf(ask: Asking, path: string): Promise<number> {
  const answer: Answer = await ask({ method: 'HEAD', path, headers: version });
  const offset = Number(answer.headers['upload-offset'] ?? Number.NaN);
  if (answer.status >= 300 || !Number.isSafeInteger(offset)) throw refusal(answer);
  return offset;
}

async function append(
  ask: Asking,
  path: string,
  file: SentFile,
  offset: number,
  news: SendNews,
): Promise<void> {
  if ((await stat(file.path)).size !== file.bytes) {
    throw new ChangedFileError('it changed while it was sent; send it once its logger has finished');
  }
  const answer = await ask({
    method: 'PATCH',
    path,
    headers: {
      ...version,
      'content-type': 'application/offset+octet-stream',
      'content-length': String(file.bytes - offset),
      'upload-offset': String(offset),
    },
    body: createReadStream(file.path, { start: offset, end: file.bytes - 1 }),
    onSent: (bytes) => news.sent(offset + bytes),
  });
  if (answer.status >= 300) throw refusal(answer);
}
