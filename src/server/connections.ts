import type { Server } from 'node:http';
import type { Socket } from 'node:net';

/** How many connections there may be, and how long they may dawdle. */
export interface ConnectionLimits {
  /** Open at once, from everybody. */
  readonly most: number;
  /** Open at once from one address: a bench takes a handful, a room behind one router a few each. */
  readonly mostFromOne: number;
  /** For the headers of a request, ms; a phone on a bad line takes a few seconds. */
  readonly headers: number;
  /** Between two requests, ms. */
  readonly idle: number;
}

const usual: ConnectionLimits = { most: 1000, mostFromOne: 250, headers: 20_000, idle: 10_000 };

/** Headers of a request that are looked at; browsers send some twenty. */
const mostHeaders = 100;

/** What the limits are set on: a server of HTTP, with or without TLS. */
type LimitedServer = Pick<
  Server,
  'headersTimeout' | 'keepAliveTimeout' | 'maxHeadersCount' | 'maxConnections' | 'on'
>;

/**
 * Keeps one device from taking all connections, and from holding them by headers that never end. How slowly a body may
 * come is not decided here, nor how long an answer may take: a recording of gigabytes and a stream of events are meant
 * to last.
 */
export function limitConnections(server: LimitedServer, limits: ConnectionLimits = usual): void {
  server.headersTimeout = limits.headers;
  server.keepAliveTimeout = limits.idle;
  server.maxHeadersCount = mostHeaders;
  server.maxConnections = limits.most;
  const open = new Map<string, number>();
  server.on('connection', (socket: Socket) => {
    const from = socket.remoteAddress ?? '';
    const count = (open.get(from) ?? 0) + 1;
    if (count > limits.mostFromOne) {
      socket.destroy();
      return;
    }
    open.set(from, count);
    socket.once('close', () => {
      const left = (open.get(from) ?? 1) - 1;
      if (left > 0) open.set(from, left);
      else open.delete(from);
    });
  });
}
