import { createAdaptorServer } from '@hono/node-server';
import type { OpenAPIHono } from '@hono/zod-openapi';

/** A server that listens. */
export interface Listening {
  readonly port: number;
  /** Ends all connections, those that only wait for events among them. */
  close(): Promise<void>;
}

/** The port is another program's. */
export class PortTakenError extends Error {
  override readonly name = 'PortTakenError';
}

/** Only this machine reaches it. */
const loopback = '127.0.0.1';

/**
 * Listens on the loopback address.
 *
 * @param port 0 takes any that is free
 * @throws PortTakenError where another program listens there, or the port needs rights that this one has not
 */
export function listen(app: OpenAPIHono, port: number): Promise<Listening> {
  const server = createAdaptorServer({ fetch: app.fetch });
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const taken = error.code === 'EADDRINUSE' || error.code === 'EACCES';
      reject(taken ? new PortTakenError(`Port ${port} is not free.`) : error);
    });
    server.listen(port, loopback, () => {
      const address = server.address();
      if (address === null || typeof address === 'string') {
        reject(new Error('The server has no port.'));
        return;
      }
      resolve({
        port: address.port,
        close: () => {
          return new Promise((closed) => {
            server.close(() => closed());
            if ('closeAllConnections' in server) server.closeAllConnections();
          });
        },
      });
    });
  });
}
