import { zipSync } from 'fflate';
import type { ExportFile } from './types.ts';
import { withoutTimes } from './zip-times.ts';

/** Files in one ZIP archive; the same files give the same bytes. */
export function zipped(files: readonly ExportFile[]): Uint8Array {
  return withoutTimes(zipSync(Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]))));
}
