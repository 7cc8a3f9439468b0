import { inflateRawSync } from 'node:zlib';

/**
 * The entries of a ZIP archive by name, as text (PKWARE APPNOTE 6.3.10: 4.3.7 local header, 4.3.12 directory, 4.3.16
 * its end; 4.4.5 methods 0 stored and 8 deflated).
 */
export function unzipped(archive: Uint8Array): Map<string, string> {
  const bytes = Buffer.from(archive);
  const end = bytes.length - 22;
  if (bytes.readUInt32LE(end) !== 0x06054b50) throw new Error('this is no archive, or has a comment');
  const entries = new Map<string, string>();
  let at = bytes.readUInt32LE(end + 16);
  for (let left = bytes.readUInt16LE(end + 10); left > 0; left--) {
    const [method, size] = [bytes.readUInt16LE(at + 10), bytes.readUInt32LE(at + 20)];
    const [nameLength, extra, comment] = [28, 30, 32].map((offset) => bytes.readUInt16LE(at + offset));
    const local = bytes.readUInt32LE(at + 42);
    const name = bytes.toString('utf8', at + 46, at + 46 + (nameLength ?? 0));
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    const data = bytes.subarray(from, from + size);
    entries.set(name, (method === 8 ? inflateRawSync(data) : data).toString('utf8'));
    at += 46 + (nameLength ?? 0) + (extra ?? 0) + (comment ?? 0);
  }
  return entries;
}
