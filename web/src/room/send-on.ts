import { DetailedError, Upload } from 'tus-js-client';
import type { Problem } from '../../../src/server/contract/index.ts';
import { ProblemError } from '../api/calls.ts';

/** A file that is being handed over. */
export interface Sending {
  /** Id under which it waits on the server once all of it is there. @throws ProblemError */
  readonly id: Promise<string>;
  /** Stops; chosen again, it goes on from where it is. */
  readonly pause: () => void;
  /** Stops, and has the server forget it. */
  readonly giveUp: () => void;
}

/** Pieces are small enough to be safe soon on a slow line, bytes. */
const pieceSize = 4 << 20;
/** How long to wait before another try, ms; after the last one somebody is told. The line may be down for minutes. */
const pauses = [0, 1000, 2000, 5000, 5000, 10_000, 10_000, 20_000, 20_000, 30_000, 30_000, 60_000, 60_000];

/**
 * Hands a file over by the resumable upload protocol tus 1.0.0: where the line breaks it goes on from what is safe, also
 * when the page was reloaded meanwhile and the file is chosen again.
 *
 * @param tell part that has been sent, 0 to 1, and whether the line is down
 */
export function sendOn(file: File, tell: (part: number, waits: boolean) => void): Sending {
  const { promise, resolve, reject } = deferred<string>();
  let part = 0;
  const upload = new Upload(file, {
    endpoint: '/api/transfers',
    chunkSize: pieceSize,
    retryDelays: pauses,
    removeFingerprintOnSuccess: true,
    metadata: { filename: file.name, changed: String(file.lastModified) },
    onProgress: (sent, total) => {
      part = total === 0 ? 1 : sent / total;
      tell(part, false);
    },
    onShouldRetry: (error) => {
      const status = error.originalResponse?.getStatus() ?? 0;
      const passes = status === 0 || status === 409 || status === 423 || status === 429 || status >= 500;
      if (passes) tell(part, status === 0);
      return passes;
    },
    onSuccess: () => {
      const id = upload.url?.split('/').at(-1) ?? '';
      resolve(id);
    },
    onError: (error) => reject(new ProblemError(problemOf(error))),
  });
  void upload.findPreviousUploads().then(([before]) => {
    if (before !== undefined) upload.resumeFromPreviousUpload(before);
    upload.start();
  });
  return {
    id: promise,
    pause: () => void upload.abort(),
    giveUp: () => void upload.abort(true).catch(() => undefined),
  };
}

function problemOf(error: Error | DetailedError): Problem {
  const body = error instanceof DetailedError ? (error.originalResponse?.getBody() ?? '') : '';
  const known = parsed(body);
  if (known !== null) return known;
  return {
    type: 'about:blank',
    title: 'The file could not be handed over',
    status: 1,
    detail: 'The line was down for too long, or the file was changed or moved while it was read.',
    mend: 'Choose the same file again: what is safe on the server is not sent twice.',
  };
}

function parsed(body: string): Problem | null {
  try {
    const value: unknown = JSON.parse(body);
    const whole = typeof value === 'object' && value !== null && 'detail' in value && 'mend' in value;
    // The contract is checked where answers are made: both ends come from one build.
    return whole ? (value as Problem) : null;
  } catch {
    return null;
  }
}

function deferred<T>() {
  let resolve: (value: T) => void = () => undefined;
  let reject: (error: unknown) => void = () => undefined;
  const promise = new Promise<T>((yes, no) => {
    resolve = yes;
    reject = no;
  });
  return { promise, resolve, reject };
}
