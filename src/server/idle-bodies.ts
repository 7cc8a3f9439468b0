import type { IncomingMessage, Server, ServerResponse } from 'node:http';

/** So long a request may send nothing while its body is not whole, ms. */
const patience = 45_000;

/** What the limits are set on: a server of HTTP, with or without TLS. */
type BodyServer = Pick<Server, 'requestTimeout' | 'on'>;

/**
 * Lets a body come as slowly as its line is, for hours if need be, but ends a connection on which nothing comes any
 * more: the sender has lost it, and goes on by another one.
 *
 * @param most ms without a byte
 */
export function endIdleBodies(server: BodyServer, most: number = patience): void {
  // Node ends each request after five minutes otherwise, however well it comes along.
  server.requestTimeout = 0;
  server.on('request', (request: IncomingMessage, answer: ServerResponse) => {
    const { socket } = request;
    const { 'content-length': bytes, 'transfer-encoding': coding } = request.headers;
    if (bytes === undefined && coding === undefined) return;
    socket.setTimeout(most);
    // A body that has come whole may still wait to be read: that is this server's own time.
    answer.on('timeout', () => {
      if (!request.complete) socket.destroy();
    });
    request.once('end', () => socket.setTimeout(0));
  });
}
