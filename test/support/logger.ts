import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

type Act =
  | { readonly act: 'open'; readonly path: string; readonly flags: string }
  | { readonly act: 'write'; readonly base64: string; readonly at: number | null }
  | { readonly act: 'truncate'; readonly size: number }
  | { readonly act: 'rename'; readonly from: string; readonly to: string }
  | { readonly act: 'remove'; readonly path: string };

/** A process that writes files as a logger does. Each act is over when its promise is: nothing waits for time. */
export class Logger {
  #process: ChildProcess = started();
  #ended = false;

  async #do(act: Act): Promise<void> {
    const over = new AbortController();
    const { signal } = over;
    const ended = once(this.#process, 'exit', { signal }).then(() => {
      throw new Error('The logger ended.');
    });
    const answer = Promise.race([once(this.#process, 'message', { signal }), ended]);
    this.#process.send(act);
    try {
      await answer;
    } finally {
      over.abort();
    }
  }

  /** @param flags as for fopen: `a` appends, `w` begins anew, `r+` writes over */
  open(path: string, flags = 'a'): Promise<void> {
    return this.#do({ act: 'open', path, flags });
  }

  /** @param at bytes from the start of the file; where the last one ended without it */
  write(content: string | Uint8Array, at: number | null = null): Promise<void> {
    return this.#do({ act: 'write', base64: Buffer.from(content).toString('base64'), at });
  }

  truncate(size = 0): Promise<void> {
    return this.#do({ act: 'truncate', size });
  }

  rename(from: string, to: string): Promise<void> {
    return this.#do({ act: 'rename', from, to });
  }

  remove(path: string): Promise<void> {
    return this.#do({ act: 'remove', path });
  }

  /** Ends the process as a power cut would, and starts another. */
  async cut(): Promise<void> {
    await this.end();
    this.#process = started();
    this.#ended = false;
  }

  async end(): Promise<void> {
    if (this.#ended) return;
    this.#ended = true;
    const exit = once(this.#process, 'exit');
    this.#process.kill('SIGKILL');
    await exit;
  }
}

function started(): ChildProcess {
  return fork(fileURLToPath(new URL('./logger-process.mjs', import.meta.url)), { execArgv: [] });
}
