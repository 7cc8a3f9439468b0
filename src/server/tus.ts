import type { Context } from 'hono';
import type { PieceCheck, Transfer } from '../store/index.ts';
import { RequestProblem } from './problem.ts';

/** The version of the resumable upload protocol that is spoken here (tus.io, protocol 1.0.0). */
export const tusVersion = '1.0.0';
/** What of it is spoken beside its core. */
export const tusExtensions = 'creation,checksum,termination,expiration';
/** Algorithms of the checksum extension, which asks for sha1 at least. */
export const tusAlgorithms = ['sha256', 'sha1'] as const;
/** Type of a body that holds bytes of a transfer. */
export const tusContent = 'application/offset+octet-stream';

/** What a sender says of a file, in the headers of the protocol. */
export interface TusAnnouncement {
  readonly name: string;
  readonly bytes: number;
  readonly sha256: string | null;
  readonly changed: string | null;
}

/**
 * Reads the headers that begin a transfer. Of the metadata, `filename`, `sha256` (hexadecimal) and `changed` (any text
 * that is another one once the file was changed) mean something here.
 *
 * @throws RequestProblem
 */
export function announcementOf(c: Context): TusAnnouncement {
  if (c.req.header('upload-concat') !== undefined) throw odd('Upload-Concat', 'Send the file as one.');
  const length = c.req.header('upload-length') ?? '';
  if (!/^\d{1,15}$/.test(length)) throw odd('Upload-Length', 'Give the size of the file in bytes.');
  const metadata = metadataOf(c.req.header('upload-metadata') ?? '');
  const name = metadata.get('filename') ?? '';
  if (name === '' || name.length > 300) {
    throw odd('Upload-Metadata', 'Give the name of the file there as filename, of at most 300 characters.');
  }
  const sha256 = metadata.get('sha256')?.toLowerCase() ?? null;
  if (sha256 !== null && !/^[0-9a-f]{64}$/.test(sha256)) {
    throw odd('Upload-Metadata', 'Give sha256 there as 64 hexadecimal digits.');
  }
  return { name, bytes: Number(length), sha256, changed: metadata.get('changed')?.slice(0, 100) ?? null };
}

/** `key base64, key base64`; a key may stand alone. */
function metadataOf(header: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const pair of header.split(',').filter((text) => text.trim() !== '')) {
    const [key = '', value = '', ...rest] = pair.trim().split(' ');
    const known = rest.length === 0 && key !== '' && !found.has(key) && /^[A-Za-z0-9+/]*={0,2}$/.test(value);
    if (!known)
      throw odd('Upload-Metadata', 'Write it as pairs of a key and a value in Base64, with commas between.');
    found.set(key, Buffer.from(value, 'base64').toString('utf8'));
  }
  return found;
}

/**
 * Reads the headers that come with bytes.
 *
 * @throws RequestProblem
 */
export function piecesHeadersOf(c: Context): { readonly offset: number; readonly check: PieceCheck | null } {
  const type = c.req.header('content-type') ?? '';
  if (type.split(';')[0]?.trim().toLowerCase() !== tusContent) {
    throw new RequestProblem(
      'wrong-content',
      'The content of this request is not marked as bytes of a transfer.',
      `Send it with the header content-type: ${tusContent}.`,
    );
  }
  const offset = c.req.header('upload-offset') ?? '';
  if (!/^\d{1,15}$/.test(offset)) throw odd('Upload-Offset', 'Give the byte from which on these are.');
  return { offset: Number(offset), check: checkOf(c.req.header('upload-checksum')) };
}

function checkOf(header: string | undefined): PieceCheck | null {
  if (header === undefined) return null;
  const [name = '', digest = '', ...rest] = header.trim().split(' ');
  const algorithm = tusAlgorithms.find((known) => known === name);
  const bytes = Buffer.from(digest, 'base64');
  const long = algorithm === 'sha1' ? 20 : 32;
  if (algorithm === undefined || rest.length > 0 || bytes.length !== long) {
    throw odd('Upload-Checksum', `Give ${tusAlgorithms.join(' or ')} and the hash in Base64.`);
  }
  return { algorithm, digest: bytes };
}

/** The headers that say how far a transfer is. */
export function progressHeaders(transfer: Transfer): Record<string, string> {
  const { received, expires } = transfer;
  return {
    'tus-resumable': tusVersion,
    'upload-offset': String(received),
    // A date as RFC 9110 has it, section 5.6.7.
    ...(expires === null ? {} : { 'upload-expires': new Date(expires).toUTCString() }),
  };
}

function odd(header: string, mend: string): RequestProblem {
  return new RequestProblem('bad-request', `The header ${header} does not say what it should.`, mend);
}
