import { createCipheriv, createDecipheriv, randomBytes, scryptSync } from 'node:crypto';
import { gunzipSync, gzipSync } from 'node:zlib';
import { z } from 'zod';

/** A key that cannot be opened; the message says why and what to do. */
export class PracticeKeyError extends Error {
  override readonly name = 'PracticeKeyError';
}

const format = 'emberline sealed key 1';
const base64 = z.string().regex(/^[A-Za-z0-9+/]*={0,2}$/);

const sealedSchema = z.discriminatedUnion('seal', [
  z.strictObject({ format: z.literal(format), opens: z.string(), seal: z.literal('none'), content: base64 }),
  z.strictObject({
    format: z.literal(format),
    opens: z.string(),
    seal: z.literal('passphrase'),
    cipher: z.literal('aes-256-gcm'),
    derivation: z.literal('scrypt'),
    // Larger ones would let a foreign file take gigabytes.
    cost: z
      .int()
      .min(2)
      .max(2 ** 18),
    blockSize: z.literal(8),
    parallel: z.literal(1),
    salt: base64.max(64),
    nonce: base64.max(32),
    tag: base64.max(32),
    content: base64,
  }),
]);

/**
 * Cost of deriving the key: between the 2^14 for logins and the 2^20 for files of Percival's paper of 2009 (from memory);
 * some tenths of a second.
 */
const cost = 2 ** 17;
/** The key of a whole course takes some megabytes. */
const largestContent = 256 << 20;

/**
 * Seals a text: packed so that nobody reads it by accident, and with a passphrase encrypted (AES-256-GCM, key by
 * scrypt, RFC 7914). Without one it is hidden from the eye, not from a person who wants to know.
 */
export function sealText(text: string, passphrase: string | null): string {
  const packed = gzipSync(text, { level: 9 });
  const opens = 'emberline practice --answers <this file>';
  if (passphrase === null) {
    return asFile({ format, opens, seal: 'none', content: packed.toString('base64') });
  }
  const salt = randomBytes(16);
  const nonce = randomBytes(12);
  const cipher = createCipheriv('aes-256-gcm', derivedKey(passphrase, salt, cost), nonce);
  cipher.setAAD(Buffer.from(format));
  const content = Buffer.concat([cipher.update(packed), cipher.final()]);
  return asFile({
    format,
    opens,
    seal: 'passphrase',
    cipher: 'aes-256-gcm',
    derivation: 'scrypt',
    cost,
    blockSize: 8,
    parallel: 1,
    salt: salt.toString('base64'),
    nonce: nonce.toString('base64'),
    tag: cipher.getAuthTag().toString('base64'),
    content: content.toString('base64'),
  });
}

function asFile(sealed: z.output<typeof sealedSchema>): string {
  return `${JSON.stringify(sealed, null, 2)}\n`;
}

function derivedKey(passphrase: string, salt: Buffer, n: number): Buffer {
  return scryptSync(passphrase.normalize('NFC'), salt, 32, { N: n, r: 8, p: 1, maxmem: 256 * n * 8 });
}

/**
 * Opens what `sealText` made.
 *
 * @param text content of the file
 * @throws PracticeKeyError where it is no sealed key, is damaged, or the passphrase is missing or wrong
 */
export function openSealed(text: string, passphrase: string | null): string {
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    throw new PracticeKeyError(
      'is no key of practice recordings; name the key.json that was written with them',
    );
  }
  const sealed = sealedSchema.safeParse(parsed);
  if (!sealed.success) {
    throw new PracticeKeyError(
      'is no key of practice recordings; name the key.json that was written with them',
    );
  }
  const packed = unlocked(sealed.data, passphrase);
  try {
    return gunzipSync(packed, { maxOutputLength: largestContent }).toString('utf8');
  } catch {
    throw new PracticeKeyError('is damaged; make the set again with the same seed');
  }
}

function unlocked(sealed: z.output<typeof sealedSchema>, passphrase: string | null): Buffer {
  const content = Buffer.from(sealed.content, 'base64');
  if (sealed.seal === 'none') return content;
  if (passphrase === null) {
    throw new PracticeKeyError(
      'is sealed with a passphrase; give it in --passphrase-file <file> or in the variable EMBERLINE_PASSPHRASE',
    );
  }
  try {
    const key = derivedKey(passphrase, Buffer.from(sealed.salt, 'base64'), sealed.cost);
    const decipher = createDecipheriv(sealed.cipher, key, Buffer.from(sealed.nonce, 'base64'), {
      authTagLength: 16,
    });
    decipher.setAAD(Buffer.from(format));
    decipher.setAuthTag(Buffer.from(sealed.tag, 'base64'));
    return Buffer.concat([decipher.update(content), decipher.final()]);
  } catch {
    throw new PracticeKeyError('does not open: the passphrase is another one, or the file is damaged');
  }
}
