import { X509Certificate } from 'node:crypto';
import { createSecureContext } from 'node:tls';
import type { Certificate } from './access/certificate.ts';
import { ownNames, roomNames } from './access/names.ts';
import type { Reach } from './context.ts';
import { loopback } from './listen.ts';

/** How a room is opened to others. */
export interface RoomOptions {
  /** Address of this machine to listen on; `0.0.0.0` for all. */
  readonly address: string;
  /** Further host names by which others reach it. */
  readonly names: readonly string[];
  /** A certificate from elsewhere with its key, in PEM; null where one is made, or a proxy has it. */
  readonly certificate: { readonly certificate: string; readonly key: string } | null;
  /** What people open where a proxy on this machine stands before the server; null where none does. */
  readonly proxy: URL | null;
}

/** How a server is to listen, and what it goes by. */
export interface Opening {
  readonly address: string;
  readonly certificate: Certificate | null;
  /** How it is reached once its port is known. */
  reachAt(port: number): Reach;
}

/** A server that only its own machine reaches. */
export const ownMachineOpening: Opening = {
  address: loopback,
  certificate: null,
  reachAt: (port) => ({
    names: new Set(ownNames),
    scheme: 'http',
    addresses: [`http://localhost:${port}/`],
    fingerprint: null,
  }),
};

/**
 * A server that others reach, by TLS or behind a proxy that has it.
 *
 * @param now ms since 1970
 * @throws Error where what was given does not fit together; StoreError where a certificate cannot be kept
 */
export async function roomOpening(folder: string, options: RoomOptions, now: number): Promise<Opening> {
  const { proxy } = options;
  if (proxy !== null) {
    return {
      address: loopback,
      certificate: null,
      reachAt: () => ({
        names: new Set([proxy.hostname.toLowerCase(), ...options.names.map((one) => one.toLowerCase())]),
        scheme: 'https',
        addresses: [proxy.href],
        fingerprint: null,
      }),
    };
  }
  const names = roomNames(options.address, options.names);
  const certificate =
    options.certificate === null ? await made(folder, names, now) : given(options.certificate);
  return {
    address: options.address,
    certificate,
    reachAt: (port) => ({
      names: new Set(names),
      scheme: 'https',
      addresses: names.filter((name) => !ownNames.includes(name)).map((name) => `https://${name}:${port}/`),
      fingerprint: certificate.fingerprint,
    }),
  };
}

/** What makes certificates is large, and only this needs it. */
async function made(folder: string, names: readonly string[], now: number): Promise<Certificate> {
  const { ownCertificate } = await import('./access/certificate.ts');
  return ownCertificate(folder, names, now);
}

function given({ certificate, key }: NonNullable<RoomOptions['certificate']>): Certificate {
  try {
    createSecureContext({ cert: certificate, key });
    return { certificate, key, fingerprint: new X509Certificate(certificate).fingerprint256, made: false };
  } catch {
    throw new Error(
      'The certificate and the key cannot be used together. Give the PEM files of one pair, the key without a passphrase.',
    );
  }
}
