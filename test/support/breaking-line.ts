import { connect, createServer, type Server, type Socket } from 'node:net';

/** A line to a server that breaks where it is told to. */
export interface BreakingLine {
  readonly port: number;
  /** Breaks once so many bytes have gone to the server in all, and does something before the next connection. */
  breakAt(bytes: readonly number[], meanwhile?: () => Promise<void>): void;
  broken(): number;
  passed(): number;
  close(): Promise<void>;
}

/** @param target the port of the server, on this machine */
export async function breakingLine(target: () => number): Promise<BreakingLine> {
  let passed = 0;
  let broken = 0;
  let breaks: number[] = [];
  let meanwhile = async (): Promise<void> => undefined;
  let ready = Promise.resolve();
  const sockets = new Set<Socket>();
  const server: Server = createServer((near) => {
    sockets.add(near);
    near.on('error', () => undefined);
    void ready.then(() => {
      const far = connect(target(), '127.0.0.1');
      sockets.add(far);
      far.on('error', () => near.destroy());
      far.on('close', () => near.destroy());
      near.on('close', () => far.destroy());
      far.pipe(near);
      near.on('data', (piece: Buffer) => {
        passed += piece.length;
        const next = breaks[0];
        if (next === undefined || passed < next) {
          if (!far.write(piece)) {
            near.pause();
            far.once('drain', () => near.resume());
          }
          return;
        }
        breaks = breaks.slice(1);
        broken += 1;
        // What stands before the break still arrives.
        far.write(piece.subarray(0, piece.length - (passed - next)), () => far.destroy());
        near.destroy();
        ready = meanwhile();
      });
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : 0,
    breakAt: (bytes, work) => {
      breaks = [...bytes];
      if (work !== undefined) meanwhile = work;
    },
    broken: () => broken,
    passed: () => passed,
    close: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
