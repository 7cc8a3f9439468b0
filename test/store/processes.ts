import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join, resolve } from 'node:path';
import { build } from 'rolldown';
import type { Order } from './store-process.ts';

/** A process that works on folders. */
export interface StoreProcess {
  /** @returns what it says when it is done */
  tell(order: Order): Promise<string>;
  /** Ends it as a loss of power would: without a chance to tidy up. */
  kill(): Promise<void>;
}

/** Makes the program of such processes, and starts as many as are asked for. */
export async function storeProcesses() {
  // Beside the packages, for those that stay outside the bundle.
  const folder = mkdtempSync(resolve('node_modules', '.store-'));
  const file = join(folder, 'store.mjs');
  await build({
    input: 'test/store/store-process.ts',
    platform: 'node',
    external: [/^node:/, ...builtinModules, /^read-excel-file/],
    output: { file, format: 'esm', codeSplitting: false },
  });
  const running = new Set<ChildProcess>();
  return {
    start: async (): Promise<StoreProcess> => {
      const child = fork(file, [], { execArgv: [] });
      running.add(child);
      await once(child, 'message');
      return {
        tell: async (order) => {
          const answer = once(child, 'message');
          child.send(order);
          const [said]: readonly unknown[] = await answer;
          return String(said);
        },
        kill: async () => {
          const ended = once(child, 'exit');
          child.kill('SIGKILL');
          await ended;
          running.delete(child);
        },
      };
    },
    end: () => {
      for (const child of running) child.kill('SIGKILL');
      rmSync(folder, { recursive: true });
    },
  };
}
