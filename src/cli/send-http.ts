import { type IncomingMessage, request as plainRequest, type RequestOptions } from 'node:http';
import { request as tlsRequest } from 'node:https';
import type { Socket } from 'node:net';
import { Readable } from 'node:stream';
import { connect as connectTls, type TLSSocket } from 'node:tls';

/** What a server answered. */
export interface Answer {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly text: string;
}

/** A request to the server. */
interface Ask {
  readonly method: 'GET' | 'HEAD' | 'POST' | 'PATCH';
  readonly path: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Readable;
  /** Told how many bytes of a streamed body are on their way. */
  readonly onSent?: (bytes: number) => void;
}

/** Asks a server; rejects where the connection is lost. */
export type Asking = (ask: Ask) => Promise<Answer>;

/** Whom to ask, and how to know them. */
export interface SendTo {
  readonly address: URL;
  /** User and code for HTTP Basic (RFC 7617); null where nobody has to sign in. */
  readonly credentials: { readonly user: string; readonly code: string } | null;
  /** SHA-256 of the certificate, as 64 capital hexadecimal digits; null leaves it to those who vouch for it. */
  readonly fingerprint: string | null;
  /** Certificates that vouch, in PEM; null for those that the system knows. */
  readonly ca: string | null;
}

/** The server is not the one that was meant. It is no use trying again. */
export class OtherServerError extends Error {
  override readonly name = 'OtherServerError';
}

/** So long may nothing come or go, ms; the server reads gigabytes again before it answers for them. */
const patience = 120_000;
/** An answer is a page of JSON at most. */
const longestAnswer = 4 << 20;

/** Opens the way to a server. Every request is a connection of its own, so that a lost one is found out at once. */
export function asking({ address, credentials, fingerprint, ca }: SendTo): Asking {
  const options: RequestOptions = {
    host: address.hostname.replace(/^\[|\]$/g, ''),
    port: address.port === '' ? (address.protocol === 'https:' ? 443 : 80) : address.port,
    ...(credentials === null ? {} : { auth: `${credentials.user}:${credentials.code}` }),
  };
  const secure = address.protocol === 'https:';
  // With an agent, whoever asks has no say in how the connection is made.
  const pinned =
    fingerprint === null
      ? ({ agent: false } as const)
      : { createConnection: pinnedConnection(options, fingerprint) };
  return ({ method, path, headers, body, onSent }) =>
    new Promise((resolve, reject) => {
      const whole = {
        ...options,
        ...pinned,
        method,
        path,
        headers: { host: address.host, connection: 'close', ...headers },
      };
      const sending = secure ? tlsRequest({ ...whole, ...(ca === null ? {} : { ca }) }) : plainRequest(whole);
      sending.on('error', (error: NodeJS.ErrnoException) => reject(asOther(error)));
      sending.setTimeout(patience, () => sending.destroy(new Error('the server does not answer')));
      sending.on('response', (response) => {
        const pieces: Buffer[] = [];
        let bytes = 0;
        response.on('data', (piece: Buffer) => {
          bytes += piece.length;
          if (bytes > longestAnswer) sending.destroy(new Error('the answer is too long'));
          pieces.push(piece);
        });
        response.on('error', reject);
        response.on('end', () => {
          const text = Buffer.concat(pieces).toString('utf8');
          resolve({ status: response.statusCode ?? 0, headers: response.headers, text });
          sending.destroy();
        });
      });
      if (!(body instanceof Readable)) {
        sending.end(body);
        return;
      }
      let sent = 0;
      body.on('data', (piece: Buffer) => {
        sent += piece.length;
        onSent?.(sent);
      });
      body.on('error', (error) => sending.destroy(error));
      sending.on('close', () => body.destroy());
      body.pipe(sending);
    });
}

type Connected = (error: Error | null, socket: Socket) => void;

/** Connects, and looks at the certificate before a single byte goes. */
function pinnedConnection({ host, port }: RequestOptions, fingerprint: string) {
  return (_: unknown, connected: Connected): undefined => {
    const name = host ?? '';
    const socket: TLSSocket = connectTls({
      host: name,
      port: Number(port),
      // The fingerprint says more than whoever vouches: it is this very certificate or it is not.
      rejectUnauthorized: false,
      ...(/[a-z]/i.test(name) && !name.includes(':') ? { servername: name } : {}),
    });
    const fail = (error: Error) => connected(error, socket);
    socket.once('error', fail);
    socket.once('secureConnect', () => {
      socket.off('error', fail);
      const found = socket.getPeerX509Certificate()?.fingerprint256.replaceAll(':', '') ?? 'none';
      if (found === fingerprint) return connected(null, socket);
      socket.destroy();
      return connected(
        new OtherServerError(
          `the certificate of the server has the fingerprint ${found}, which is another one; ask whoever runs the server before you send anything`,
        ),
        socket,
      );
    });
    return undefined;
  };
}

/** Errors of TLS by which a certificate is not accepted. */
const untrusted = /^(?:ERR_TLS_CERT|CERT_|DEPTH_ZERO|SELF_SIGNED|UNABLE_TO_(?:GET|VERIFY))/;

function asOther(error: NodeJS.ErrnoException): Error {
  if (!untrusted.test(error.code ?? '')) return error;
  return new OtherServerError(
    `nothing vouches for the certificate of the server (${error.code}); give its fingerprint as --fingerprint, or who vouches for it as --ca`,
  );
}
