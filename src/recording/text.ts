import { RecordingError } from './error.ts';
import type { Dialect } from './types.ts';

/** How many bytes at the start the understanding of a file rests on. */
export const headBytes = 1 << 18;

/** Longest line that is read, bytes. Nothing a logger writes comes near. */
export const longestLine = 1 << 16;

/** Whether a line is longer than any logger writes; NUL bytes are padding and do not count. */
export function isTooLong(line: Uint8Array): boolean {
  if (line.length <= longestLine) return false;
  let n = 0;
  for (const byte of line) if (byte !== 0) n++;
  return n > longestLine;
}

/** How the characters of a file are stored, and how many bytes of mark come first. */
export interface Encoding {
  readonly encoding: Dialect['encoding'];
  readonly markBytes: number;
}

/**
 * Finds the encoding from the first bytes: by the byte order mark, or by where the NUL bytes of UTF-16 lie,
 * or as UTF-8 if it is valid as such, and as Latin-1 otherwise.
 */
export function findEncoding(head: Uint8Array, given?: Dialect['encoding']): Encoding {
  const [a = -1, b = -1, c = -1] = head;
  const marked: Encoding | null =
    a === 0xef && b === 0xbb && c === 0xbf
      ? { encoding: 'utf-8', markBytes: 3 }
      : a === 0xff && b === 0xfe
        ? { encoding: 'utf-16le', markBytes: 2 }
        : a === 0xfe && b === 0xff
          ? { encoding: 'utf-16be', markBytes: 2 }
          : null;
  if (given !== undefined) {
    return { encoding: given, markBytes: marked?.encoding === given ? marked.markBytes : 0 };
  }
  if (marked !== null) return marked;
  const wide = wideOrder(head);
  if (wide !== null) return { encoding: wide, markBytes: 0 };
  return { encoding: isUtf8(head) ? 'utf-8' : 'latin-1', markBytes: 0 };
}

/** Western text in UTF-16 has a NUL in nearly every second byte. */
function wideOrder(head: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const length = Math.min(head.length & ~1, 4096);
  if (length < 4) return null;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < length; i += 2) {
    if (head[i] === 0) even++;
    if (head[i + 1] === 0) odd++;
  }
  const half = length / 2;
  if (odd > 0.8 * half && even < 0.05 * half) return 'utf-16le';
  if (even > 0.8 * half && odd < 0.05 * half) return 'utf-16be';
  return null;
}

function isUtf8(head: Uint8Array): boolean {
  try {
    // Streaming: a character that the end of the head cuts in two is no error.
    new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: true });
    return true;
  } catch {
    return false;
  }
}

const known: readonly (readonly [signature: readonly number[], what: string])[] = [
  [[0x50, 0x4b, 0x03, 0x04], 'a ZIP archive or a spreadsheet workbook'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'a spreadsheet workbook or another office document'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF document'],
  [[0x89, 0x50, 0x4e, 0x47], 'a picture'],
  [[0xff, 0xd8, 0xff], 'a picture'],
  [[0x1f, 0x8b], 'gzip data'],
];

/**
 * Refuses what is no text.
 *
 * @throws RecordingError `not-text`
 */
export function requireText(head: Uint8Array, name: string): void {
  for (const [signature, what] of known) {
    if (signature.every((byte, i) => head[i] === byte)) {
      throw new RecordingError('not-text', name, null, `This is ${what}, not a text recording.`, mend);
    }
  }
  let strange = 0;
  let seen = 0;
  for (let i = 0; i < head.length; i++) {
    const byte = head[i] ?? 0;
    if (byte === 0) continue;
    seen++;
    if (byte < 32 && !(byte >= 9 && byte <= 13) && byte !== 26 && byte !== 27) strange++;
  }
  if (strange > 0.02 * seen) {
    throw new RecordingError('not-text', name, null, 'This is binary data, not a text recording.', mend);
  }
}

const mend =
  'Export the recording from the logger as text (CSV, tab-separated or the like) and give that file.';

/** Turns the bytes of a line into text. Bytes that are no valid character become U+FFFD, never an error. */
export function lineDecoder(encoding: Dialect['encoding']): (bytes: Uint8Array) => string {
  const decoder = new TextDecoder(encoding === 'latin-1' ? 'windows-1252' : 'utf-8', { ignoreBOM: true });
  return (bytes) => {
    const text = decoder.decode(bytes);
    return text.includes('\0') ? text.replaceAll('\0', '') : text;
  };
}
