import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { MadeFile } from '../export/index.ts';
import { type DownloadAnswer, type DownloadOrder, downloadAnswer } from './download-order.ts';
import { openLanes } from './lanes.ts';
import { RequestProblem } from './problem.ts';

/** Makes documents and exports beside everything else that the server does. */
export interface Downloads {
  /**
   * @param signal breaks the work off, as where whoever asked went away
   * @throws RequestProblem where it cannot be made; the reason of the signal
   */
  make(order: DownloadOrder, signal: AbortSignal): Promise<MadeFile>;
  close(): Promise<void>;
}

/** Two at once: a group with all its pages does not keep a bench sheet waiting. */
const lanes = 2;
const mostWaiting = 20;

/**
 * @param folder of the experiment
 * @param module that each process runs; null leaves the work to this one
 */
export function openDownloads(folder: string, module: URL | null): Downloads {
  const inTurn = openLanes(module === null ? 1 : lanes, mostWaiting);
  if (module === null) {
    return {
      make: (order, signal) =>
        inTurn(async () => {
          // Its libraries are heavy: the server starts without them.
          const { makeDownload } = await import('./make-download.ts');
          return makeDownload(folder, order, { signal });
        }, signal),
      close: async () => undefined,
    };
  }
  const crew = openProcesses(fileURLToPath(module));
  return {
    make: (order, signal) =>
      inTurn(async () => {
        const answer = await crew.ask({ folder, order }, signal);
        if (answer.kind === 'made') return answer.file;
        if (answer.kind === 'fault') throw new Error(answer.what);
        const { kind, detail, mend, faults } = answer.problem;
        throw new RequestProblem(kind, detail, mend, faults);
      }, signal),
    close: async () => crew.close(),
  };
}

/** Processes that are started as they are needed, and used again. */
function openProcesses(module: string) {
  const idle: ChildProcess[] = [];
  const all = new Set<ChildProcess>();

  const start = (): ChildProcess => {
    const child = fork(module, [], {
      execArgv: [],
      serialization: 'advanced',
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    });
    all.add(child);
    // Where nobody listens, an error ends the whole program; its exit says enough.
    child.on('error', () => undefined);
    child.once('exit', () => {
      all.delete(child);
      const at = idle.indexOf(child);
      if (at >= 0) idle.splice(at, 1);
    });
    return child;
  };

  return {
    ask: (
      job: { readonly folder: string; readonly order: DownloadOrder },
      signal: AbortSignal,
    ): Promise<DownloadAnswer> => {
      signal.throwIfAborted();
      const child = idle.pop() ?? start();
      child.ref();
      child.channel?.ref();
      return new Promise((resolve, reject) => {
        const done = () => {
          child.off('exit', lost);
          child.off('message', answered);
          signal.removeEventListener('abort', left);
        };
        const lost = () => {
          done();
          reject(new Error('The process that made a document ended by itself.'));
        };
        const left = () => {
          done();
          child.kill('SIGKILL');
          reject(signal.reason);
        };
        const answered = (message: unknown) => {
          done();
          child.unref();
          child.channel?.unref();
          idle.push(child);
          const read = downloadAnswer.safeParse(message);
          if (read.success) resolve(read.data);
          else reject(read.error);
        };
        child.on('exit', lost);
        child.on('message', answered);
        signal.addEventListener('abort', left, { once: true });
        child.send(job);
      });
    },
    close: () => {
      for (const child of all) child.kill('SIGKILL');
    },
  };
}
