import { createServer } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import { createAdaptorServer } from '@hono/node-server';
import type { OpenAPIHono } from '@hono/zod-openapi';
import type { Certificate } from './access/certificate.ts';
import { limitConnections } from './connections.ts';
import { endIdleBodies } from './idle-bodies.ts';

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

/** Where a server listens. */
export interface ListenOptions {
  /** 0 takes any that is free. */
  readonly port: number;
  /** Address of this machine; of the loopback interface where only it is to reach the server. */
  readonly address: string;
  /** Null for plain HTTP. */
  readonly certificate: Certificate | null;
}

/** Only this machine reaches it. */
export const loopback = '127.0.0.1';

/** ms; a phone on a bad line takes a few seconds. */
const longestHandshake = 20_000;

/**
 * Listens.
 *
 * @param appAt what answers once the port is known
 * @throws PortTakenError where another program listens there, or the port needs rights that this one has not; Error
 *   where this machine has no such address
 */
export function listen(
  appAt: (port: number) => OpenAPIHono,
  { port, address, certificate }: ListenOptions,
): Promise<Listening> {
  let app: OpenAPIHono | null = null;
  const fetch: OpenAPIHono['fetch'] = (...request) => {
    if (app === null) throw new Error('A request came before the server listened.');
    return app.fetch(...request);
  };
  const server =
    certificate === null
      ? createAdaptorServer({ fetch, createServer })
      : createAdaptorServer({
          fetch,
          createServer: createTlsServer,
          serverOptions: {
            cert: certificate.certificate,
            key: certificate.key,
            minVersion: 'TLSv1.2',
            handshakeTimeout: longestHandshake,
          },
        });
  if ('requestTimeout' in server) {
    endIdleBodies(server);
    limitConnections(server);
  }
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      reject(refusal(error, port, address));
    });
    server.listen(port, address, () => {
      const found = server.address();
      if (found === null || typeof found === 'string') {
        reject(new Error('The server has no port.'));
        return;
      }
      app = appAt(found.port);
      resolve({
        port: found.port,
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

function refusal(error: NodeJS.ErrnoException, port: number, address: string): Error {
  if (error.code === 'EADDRINUSE' || error.code === 'EACCES') {
    return new PortTakenError(`Port ${port} is not free.`);
  }
  if (error.code === 'EADDRNOTAVAIL' || error.code === 'ENOTFOUND') {
    return new Error(`This machine has no address ${address}: give one of its own to --address.`);
  }
  return error;
}
