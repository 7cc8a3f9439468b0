import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';

/** A server in a process of its own, as people start it. */
export interface ServerProcess {
  readonly base: string;
  /** Ends it without a chance to tidy up. */
  kill(): Promise<void>;
}

/** A start that was killed before the server answered. */
export type KilledStart = 'killed';

/**
 * Starts the command over a folder.
 *
 * @param killedAfter ms after which it is killed where it has not said by then that it is open; null waits for it
 * @param command the Node to run, and the command; those of this folder where left out
 * @throws Error where it ends by itself, with what it said
 */
export async function startServer(
  folder: string,
  port: number,
  killedAfter: number | null,
  command = { node: process.execPath, main: 'dist/main.js' },
): Promise<ServerProcess | KilledStart> {
  const child = spawn(command.node, [command.main, 'serve', folder, '--port', String(port)], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  child.stderr.on('data', (piece: Buffer) => {
    said += piece.toString('utf8');
  });
  const ended = once(child, 'exit');
  const timer = killedAfter === null ? undefined : setTimeout(() => child.kill('SIGKILL'), killedAfter);
  const opened = await Promise.race([saysOpen(child), ended.then(() => false)]);
  clearTimeout(timer);
  if (!opened) {
    if (child.signalCode === 'SIGKILL') return 'killed';
    throw new Error(`the server did not start: ${said}`);
  }
  return {
    base: `http://127.0.0.1:${port}`,
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
      if (said !== '') process.stderr.write(said);
    },
  };
}

function saysOpen({ stdout }: ChildProcess): Promise<boolean> {
  return new Promise((resolve) => {
    let text = '';
    stdout?.on('data', (piece: Buffer) => {
      text += piece.toString('utf8');
      if (text.includes(' is open at ')) resolve(true);
    });
  });
}

/** A port of the loopback address that is free. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((listening) => {
    server.listen(0, '127.0.0.1', () => listening());
  });
  const address = server.address();
  await new Promise((closed) => {
    server.close(closed);
  });
  if (address === null || typeof address === 'string') throw new Error('no port is free');
  return address.port;
}
