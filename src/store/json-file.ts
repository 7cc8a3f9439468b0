import { readFile, stat } from 'node:fs/promises';
import type { z } from 'zod';
import { reason } from './experiment-file.ts';
import { leadsOut, noLinkOut } from './leads-out.ts';

/** How a file of Emberline's own is read. */
export interface JsonFile<T> {
  readonly schema: z.ZodType<T>;
  /** Larger ones are not even read, MiB. */
  readonly largest: number;
  /** What happens where it is moved away, for the mend: `the checks then start anew`. */
  readonly anew: string;
  /** The error that is thrown. */
  readonly fail: (message: string, mend: string) => Error;
}

/**
 * Reads a file of Emberline's own that people may have edited.
 *
 * @param folder of the experiment
 * @param path of the file in it
 * @returns null where there is none
 * @throws what `fail` makes, where it cannot be read or does not fit
 */
export async function readJsonFile<T>(folder: string, path: string, about: JsonFile<T>): Promise<T | null> {
  const { schema, anew, fail } = about;
  const text = await readText(folder, path, about);
  if (text === null) return null;
  const mend = `mend that place in an editor, or move the file away; ${anew}`;
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw fail(`${path}: is not JSON (${why.slice(0, 200)})`, mend);
  }
  const read = schema.safeParse(parsed);
  if (!read.success) throw fail(`${path}: ${firstFault(read.error)}`, mend);
  return read.data;
}

async function readText<T>(
  folder: string,
  path: string,
  { largest, anew, fail }: JsonFile<T>,
): Promise<string | null> {
  const found = await stat(path).catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw fail(`${path}: cannot be read (${reason(error)})`, 'check the folder');
  });
  if (found === null) return null;
  if (!found.isFile()) throw fail(`${path}: is not a file`, 'move it away');
  if (await leadsOut(folder, path)) throw fail(behindLink(path), noLinkOut);
  if (found.size > largest * (1 << 20)) {
    throw fail(`${path}: is larger than ${largest} MiB, as no such file is`, `move it away; ${anew}`);
  }
  const bytes = await readFile(path).catch((error: unknown) => {
    throw fail(`${path}: cannot be read (${reason(error)})`, 'check its permissions');
  });
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw fail(`${path}: is not UTF-8 text`, 'save it as UTF-8 in your editor');
  }
}

/** What is wrong with a file of Emberline's own that lies elsewhere. */
export function behindLink(path: string): string {
  return `${path}: lies behind a link that leads out of the experiment folder`;
}

/** The first thing that does not fit, with its place. */
export function firstFault({ issues }: z.ZodError): string {
  const [issue] = issues;
  if (issue === undefined) return 'it does not fit';
  const place = issue.path.map((key) => (typeof key === 'number' ? `number ${key + 1}` : String(key)));
  return `${place.length === 0 ? '' : `${place.join(' › ')}: `}${issue.message}`.slice(0, 300);
}
