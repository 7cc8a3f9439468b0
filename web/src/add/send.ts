import type { Problem, UploadView } from '../../../src/server/contract/index.ts';
import { ProblemError } from '../api/calls.ts';

/**
 * Hands a file over and tells how far it is: `fetch` cannot say what has been sent.
 *
 * @param onProgress part that has been sent, 0 to 1
 * @throws ProblemError
 */
export function sendFile(file: File, onProgress: (part: number) => void): Promise<UploadView> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open('POST', `/api/uploads?name=${encodeURIComponent(file.name)}`);
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.responseType = 'json';
    request.upload.addEventListener('progress', ({ loaded, total }) => {
      if (total > 0) onProgress(loaded / total);
    });
    request.addEventListener('load', () => {
      const body: unknown = request.response;
      // The contract is checked where answers are made: both ends come from one build.
      if (request.status === 200 && body !== null) resolve(body as UploadView);
      else reject(new ProblemError(isProblem(body) ? body : notSent(request.status)));
    });
    request.addEventListener('error', () => reject(new ProblemError(notSent(0))));
    request.send(file);
  });
}

function isProblem(body: unknown): body is Problem {
  return typeof body === 'object' && body !== null && 'detail' in body && 'mend' in body;
}

function notSent(status: number): Problem {
  return {
    type: 'about:blank',
    title: 'The file could not be handed over',
    status,
    detail: 'It was changed or moved while it was read, or the server does not answer. Nothing was taken.',
    mend: 'See whether the command in the terminal still runs, and choose the file again.',
  };
}
