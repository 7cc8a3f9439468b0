import { constants } from 'node:fs';
import { type FileHandle, lstat, mkdir, open, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { flushFolder } from './atomic-write.ts';
import { StoreError } from './experiment-save.ts';
import { chainOf, firstChain, longestLine, readLine, trailHeader } from './trail-line.ts';

/** Folder of the trail. */
export const trailFolder = 'trail';

const dayFile = /^(\d{4}-\d{2}-\d{2})\.tsv$/;

/** Days of which there is a file, the first first. */
export async function trailDays(folder: string): Promise<readonly string[]> {
  const names = await readdir(join(folder, trailFolder)).catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return [];
    throw error;
  });
  return names.flatMap((name) => dayFile.exec(name)?.[1] ?? []).sort();
}

/** Path of the file of a day. */
export function trailPath(folder: string, day: string): string {
  return join(folder, trailFolder, `${day}.tsv`);
}

/** Where the trail ends. */
export interface TrailEnd {
  /** Of the last line; 0 where there is none. */
  readonly number: number;
  readonly chain: string;
}

/** A file of the trail that lines are added to. */
export interface OpenDay {
  readonly end: TrailEnd;
  /** What stood behind the last whole line, for a program was killed while it wrote; empty where nothing did. */
  readonly torn: string;
  /**
   * Adds lines, for good: they last through a loss of power. Where the disk refuses, nothing is added.
   *
   * @param lines without their line feeds
   */
  append(lines: readonly string[]): Promise<void>;
  close(): Promise<void>;
}

/**
 * Opens the file that new lines go to, while no other process does: that of the day, or of the last one that there is
 * where the clock was put back. The order of the files is then that of the lines.
 *
 * @param day ISO 8601, UTC
 * @throws StoreError where the folder or the file is a link
 */
export async function openDay(folder: string, day: string): Promise<OpenDay> {
  await mkdir(join(folder, trailFolder), { recursive: true });
  if (!(await lstat(join(folder, trailFolder))).isDirectory()) {
    throw new StoreError('The folder trail is a link that leads elsewhere.');
  }
  const days = await trailDays(folder);
  const last = days.at(-1);
  const own = last !== undefined && last > day ? last : day;
  const flags = constants.O_RDWR | constants.O_CREAT | constants.O_NOFOLLOW;
  const file = await open(trailPath(folder, own), flags, 0o644);
  try {
    const { whole, torn, lastLine } = await tailOf(file);
    const earlier = days.filter((one) => one < own);
    const end = lastLine === null ? await endBefore(folder, earlier) : endOf(lastLine);
    return {
      end,
      torn,
      append: async (lines) => {
        const header = whole === 0 ? [trailHeader] : [];
        const text = [...header, ...lines].map((line) => `${line}\n`).join('');
        try {
          if (torn !== '') await file.truncate(whole);
          await writeAll(file, Buffer.from(text, 'utf8'), whole);
          await file.sync();
        } catch (error) {
          await file.truncate(whole).catch(() => undefined);
          throw error;
        }
        if (whole > 0) return;
        await flushFolder(join(folder, trailFolder));
        await flushFolder(folder);
      },
      close: () => file.close(),
    };
  } catch (error) {
    await file.close();
    throw error;
  }
}

async function writeAll(file: FileHandle, bytes: Buffer, at: number): Promise<void> {
  for (let done = 0; done < bytes.length; ) {
    done += (await file.write(bytes, done, bytes.length - done, at + done)).bytesWritten;
  }
}

/** The last whole line of a file, and what stands behind it. */
async function tailOf(file: FileHandle) {
  const { size } = await file.stat();
  const from = Math.max(0, size - 2 * longestLine);
  const bytes = Buffer.alloc(size - from);
  const { bytesRead } = await file.read(bytes, 0, bytes.length, from);
  const read = bytes.subarray(0, bytesRead);
  const whole = read.lastIndexOf(0x0a) + 1;
  if (whole === 0 && from > 0) {
    throw new StoreError('The last file below trail/ holds something that is no line of it. Move it away.');
  }
  const torn = read.subarray(whole).toString('utf8');
  const lines = read.subarray(0, whole).toString('utf8').split('\n');
  const lastLine = lines.findLast((line) => line !== '' && line !== trailHeader) ?? null;
  return { whole: from + whole, torn, lastLine };
}

/** The end of the trail in the files before. */
async function endBefore(folder: string, days: readonly string[]): Promise<TrailEnd> {
  for (const day of days.toReversed()) {
    const file = await open(trailPath(folder, day), constants.O_RDONLY | constants.O_NOFOLLOW);
    const { lastLine } = await tailOf(file).finally(() => file.close());
    if (lastLine !== null) return endOf(lastLine);
  }
  return { number: 0, chain: firstChain };
}

/** A line that a person has changed beyond reading must not keep others from what they do: the trail goes on from it. */
export function endOf(line: string): TrailEnd {
  const read = readLine(line);
  if (read !== null) return { number: read.number, chain: read.chain };
  const number = /^\d{1,15}(?=\t)/.exec(line)?.[0];
  return { number: Number(number ?? 0), chain: chainOf(firstChain, line) };
}
