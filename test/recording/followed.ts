import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, expect } from 'vitest';
import { type FollowedFile, type Poll, readRecordingFile } from '../../src/recording/files.ts';
import { Logger } from '../support/logger.ts';
import { digits } from './helpers.ts';

/** Where files are written and followed. */
export interface FollowBench {
  readonly folder: string;
  /** A process of its own that writes as loggers do. */
  readonly logger: Logger;
  /** Of a file that is not there yet; another one in each test. */
  readonly path: string;
}

/** Sets a bench up for the tests of a file, and clears it away after them. */
export function followBench(): FollowBench {
  const folder = mkdtempSync(join(tmpdir(), 'emberline-follow-'));
  const logger = new Logger();
  let count = 0;
  beforeEach(() => {
    count++;
  });
  afterAll(async () => {
    await logger.end();
    rmSync(folder, { recursive: true });
  });
  return {
    folder,
    logger,
    get path() {
      return join(folder, `bench-${count}.csv`);
    },
  };
}

export const header = 'Time (s),T (°C)\r\n';

/** One reading, its number counted from 0. */
export const row = (i: number, value = 20 + 5 * Math.sin(i / 9)) =>
  `${(i / 10).toFixed(1)},${value.toFixed(3)}\r\n`;

/** Readings of a slow wave. @param offset of all of them, K */
export const rows = (from: number, to: number, offset = 0) =>
  Array.from({ length: to - from }, (_, k) => row(from + k, 20 + offset + 5 * Math.sin((from + k) / 9))).join(
    '',
  );

/** Looks until there is no more to read; what the first look brought. */
export async function look(file: FollowedFile): Promise<Poll> {
  const first = await file.poll();
  let next = first;
  while ('more' in next && next.more) next = await file.poll();
  return next === first ? first : { ...first, ...('size' in next ? { size: next.size } : {}) };
}

/** Holds what was followed against the whole file, and what is there up to its last line against that much of it. */
export async function expectSame(
  { folder, path }: FollowBench,
  file: FollowedFile,
  lineEnd: Uint8Array = Buffer.from('\n'),
): Promise<void> {
  expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(path)));
  const bytes = readFileSync(path);
  const part = join(folder, 'part.csv');
  writeFileSync(part, bytes.subarray(0, bytes.lastIndexOf(lineEnd) + lineEnd.length));
  const expected = { ...(await readRecordingFile(part, { name: path })), path };
  expect(digits(file.recording())).toBe(digits(expected));
}
