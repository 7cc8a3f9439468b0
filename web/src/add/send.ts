import type { Problem, UploadView } from '../../../src/server/contract/index.ts';
import { calls, ProblemError, refusal } from '../api/calls.ts';

/** Bytes of one request: all of them count or none, so that a slow line does not lose much. */
const piece = 4 << 20;
/** So many times is a lost connection tried again before a person is asked, for about two minutes. */
const mostTries = 8;

const protocol = { 'tus-resumable': '1.0.0' };
const inBase64 = (bytes: Uint8Array) => btoa(String.fromCharCode(...bytes));
const coded = (text: string) => inBase64(new TextEncoder().encode(text));

/**
 * Hands a file over by the resumable upload protocol (tus 1.0.0) and tells how far it is. A lost connection is tried
 * again; where the same file is chosen once more, it goes on from where it was.
 *
 * @param onProgress part that has been sent, 0 to 1
 * @throws ProblemError
 */
export async function sendFile(file: File, onProgress: (part: number) => void): Promise<UploadView> {
  let address: string | null = null;
  let at = -1;
  for (let tries = 0; ; ) {
    try {
      address ??= await begun(file);
      const from = offsetOf(await ask(address, 'HEAD'));
      if (from > at) tries = 0;
      at = from;
      while (at < file.size) {
        onProgress(at / file.size);
        at = await append(address, file, at);
        tries = 0;
      }
      onProgress(1);
      return await calls.readAgain(address.split('/').at(-1) ?? '', {});
    } catch (error) {
      const status = error instanceof ProblemError ? error.problem.status : 0;
      // The server gave it up meanwhile.
      if (status === 404 && tries === 0) address = null;
      else if (![0, 409, 429, 460, 503].includes(status) || tries >= mostTries) throw error;
      await new Promise((resolve) => setTimeout(resolve, 500 * 2 ** tries));
      tries += 1;
    }
  }
}

async function begun(file: File): Promise<string> {
  const answer = await ask('/api/transfers', 'POST', {
    'upload-length': String(file.size),
    'upload-metadata': `filename ${coded(file.name)},changed ${coded(String(file.lastModified))}`,
  });
  return answer.headers.get('location') ?? '';
}

async function append(address: string, file: File, at: number): Promise<number> {
  const bytes = await file
    .slice(at, at + piece)
    .arrayBuffer()
    .catch(() => {
      throw new ProblemError(changed);
    });
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  const answer = await ask(
    address,
    'PATCH',
    {
      'content-type': 'application/offset+octet-stream',
      'upload-offset': String(at),
      'upload-checksum': `sha256 ${inBase64(new Uint8Array(digest))}`,
    },
    bytes,
  );
  return offsetOf(answer);
}

async function ask(
  address: string,
  method: string,
  headers: Record<string, string> = {},
  body?: ArrayBuffer,
): Promise<Response> {
  const init = { method, headers: { ...protocol, ...headers }, ...(body === undefined ? {} : { body }) };
  const answer = await fetch(address, init).catch(() => {
    throw refusal(null, 0);
  });
  if (answer.ok) return answer;
  throw refusal(await answer.json().catch(() => null), answer.status);
}

function offsetOf(answer: Response): number {
  return Number(answer.headers.get('upload-offset'));
}

const changed: Problem = {
  type: 'about:blank',
  title: 'The file could not be read',
  status: 400,
  detail: 'It was changed or moved while it was read.',
  mend: 'Choose it again once its logger has finished.',
};
