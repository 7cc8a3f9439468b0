import { createHash } from 'node:crypto';
import { createReader, type ReadOptions, type Recording, RecordingError } from '../../src/recording/index.ts';

/** Bytes of a text in UTF-8. */
export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** Bytes of a text in ISO 8859-1: every character's code is its byte. */
export function latin1(text: string): Uint8Array {
  return Uint8Array.from(text, (c) => c.charCodeAt(0));
}

/** Bytes of a text in UTF-16. */
export function utf16(text: string, order: 'le' | 'be'): Uint8Array {
  const bytes = new Uint8Array(2 * text.length);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < text.length; i++) view.setUint16(2 * i, text.charCodeAt(i), order === 'le');
  return bytes;
}

/** Reads a file given as text or bytes. */
export function read(file: string | Uint8Array, options: ReadOptions = {}): Recording {
  const reader = createReader({ name: 'thornwick.txt', ...options });
  reader.push(typeof file === 'string' ? utf8(file) : file);
  return reader.finish();
}

/** The error that reading a file ends in. */
export function refusal(file: string | Uint8Array, options: ReadOptions = {}): RecordingError {
  try {
    read(file, options);
  } catch (error) {
    if (error instanceof RecordingError) return error;
    throw error;
  }
  throw new Error('The file was read.');
}

/** Samples of a short recording, where every block is one sample. */
export function values(recording: Recording): number[] {
  return [...recording.blocks.mean];
}

export function times(recording: Recording): number[] {
  return [...recording.blocks.time];
}

export function codes(recording: Recording): string[] {
  return recording.remarks.map((remark) => remark.code);
}

/** Message of the remark with a code; empty where there is none. */
export function message(recording: Recording, code: string): string {
  return recording.remarks.find((remark) => remark.code === code)?.message ?? '';
}

/** All that a recording holds, to the last digit; of numbers in rows, how many there are and what they hash to. */
export function digits(recording: unknown): string {
  return JSON.stringify(recording, (_, x) => {
    if (!(x instanceof Float64Array)) return x;
    return `${x.length}: ${createHash('sha256').update(x).digest('hex')}`;
  });
}
