import 'reflect-metadata';
import { X509Certificate } from 'node:crypto';
import { isIP } from 'node:net';
import {
  BasicConstraintsExtension,
  ExtendedKeyUsage,
  ExtendedKeyUsageExtension,
  KeyUsageFlags,
  KeyUsagesExtension,
  PemConverter,
  SubjectAlternativeNameExtension,
  X509CertificateGenerator,
} from '@peculiar/x509';
import { readRoomFile, writeRoomFile } from '../../store/index.ts';

/** What a server shows to prove who it is, in PEM. */
export interface Certificate {
  readonly certificate: string;
  readonly key: string;
  /** SHA-256 of the certificate, as browsers show it: pairs of hexadecimal digits with colons. */
  readonly fingerprint: string;
  /** Whether it was made here, so that nobody vouches for it. */
  readonly made: boolean;
}

const certificateFile = 'certificate.pem';
const keyFile = 'certificate-key.pem';
/** Longest that browsers take (CA/Browser Forum, Baseline Requirements 6.3.2, for those issued before 2026-03-15; from memory). */
const lifetime = 397;
const day = 86_400_000;
/** One that ends within a term's week is made anew. */
const soon = 7 * day;
const elliptic = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' } as const;

/**
 * The certificate of a room that has none from elsewhere: made once and kept with the folder, so that its fingerprint
 * stays; made anew where it runs out or the server has got a name that it does not hold.
 *
 * @param names under which the server is reached, host names and addresses
 * @param now ms since 1970
 * @throws StoreError where it cannot be kept
 */
export async function ownCertificate(
  folder: string,
  names: readonly string[],
  now: number,
): Promise<Certificate> {
  const [certificate, key] = [
    await readRoomFile(folder, certificateFile),
    await readRoomFile(folder, keyFile),
  ];
  if (certificate !== null && key !== null && stillGood(certificate, names, now)) {
    return { certificate, key, fingerprint: fingerprintOf(certificate), made: true };
  }
  const made = await make(names, now);
  await writeRoomFile(folder, keyFile, made.key);
  await writeRoomFile(folder, certificateFile, made.certificate);
  return { ...made, fingerprint: fingerprintOf(made.certificate), made: true };
}

/** SHA-256 of a certificate in PEM. */
function fingerprintOf(certificate: string): string {
  return new X509Certificate(certificate).fingerprint256;
}

function stillGood(certificate: string, names: readonly string[], now: number): boolean {
  try {
    const read = new X509Certificate(certificate);
    if (Date.parse(read.validTo) - now < soon || Date.parse(read.validFrom) > now) return false;
    return names.every(
      (name) => (isIP(name) === 0 ? read.checkHost(name) : read.checkIP(name)) !== undefined,
    );
  } catch {
    return false;
  }
}

async function make(names: readonly string[], now: number): Promise<{ certificate: string; key: string }> {
  const keys = await crypto.subtle.generateKey(elliptic, true, ['sign', 'verify']);
  const made = await X509CertificateGenerator.createSelfSigned(
    {
      name: [{ CN: ['Emberline room'] }],
      // A clock that is a little behind must not refuse it.
      notBefore: new Date(now - day),
      notAfter: new Date(now + (lifetime - 1) * day),
      signingAlgorithm: elliptic,
      keys,
      extensions: [
        new BasicConstraintsExtension(false, undefined, true),
        new KeyUsagesExtension(KeyUsageFlags.digitalSignature, true),
        new ExtendedKeyUsageExtension([ExtendedKeyUsage.serverAuth]),
        new SubjectAlternativeNameExtension(
          names.map((name) => ({ type: isIP(name) === 0 ? ('dns' as const) : ('ip' as const), value: name })),
        ),
      ],
    },
    crypto,
  );
  const key = await crypto.subtle.exportKey('pkcs8', keys.privateKey);
  return { certificate: made.toString('pem'), key: PemConverter.encode(key, 'PRIVATE KEY') };
}
