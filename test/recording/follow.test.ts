import {
  copyFileSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { open } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import {
  type FollowedFile,
  followRecording,
  type OpenFile,
  type Poll,
  readRecordingFile,
  readSamples,
} from '../../src/recording/files.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { Logger } from '../support/logger.ts';
import { codes, digits, utf16 } from './helpers.ts';

let folder = '';
let logger: Logger;
let count = 0;
let path = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-follow-'));
  logger = new Logger();
});
beforeEach(() => {
  count++;
  path = join(folder, `bench-${count}.csv`);
});
afterAll(async () => {
  await logger.end();
  rmSync(folder, { recursive: true });
});

const header = 'Time (s),T (°C)\r\n';
const row = (i: number, value = 20 + 5 * Math.sin(i / 9)) => `${(i / 10).toFixed(1)},${value.toFixed(3)}\r\n`;
const rows = (from: number, to: number, offset = 0) =>
  Array.from({ length: to - from }, (_, k) => row(from + k, 20 + offset + 5 * Math.sin((from + k) / 9))).join(
    '',
  );

/** Looks until there is no more to read; what the first look brought. */
async function look(file: FollowedFile): Promise<Poll> {
  const first = await file.poll();
  let next = first;
  while ('more' in next && next.more) next = await file.poll();
  return next === first ? first : { ...first, ...('size' in next ? { size: next.size } : {}) };
}

/** Holds what was followed against the whole file, and what is there up to its last line against that much of it. */
async function expectSame(file: FollowedFile, lineEnd: Uint8Array = Buffer.from('\n')): Promise<void> {
  expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(path)));
  const bytes = readFileSync(path);
  const part = join(folder, 'part.csv');
  writeFileSync(part, bytes.subarray(0, bytes.lastIndexOf(lineEnd) + lineEnd.length));
  const expected = { ...(await readRecordingFile(part, { name: path })), path };
  expect(digits(file.recording())).toBe(digits(expected));
}

describe('a file that a logger appends to', () => {
  test('in bursts, with partial last lines and a line end in two halves', async () => {
    const file = followRecording(path);
    expect(await file.poll()).toMatchObject({ kind: 'gone' });
    await logger.open(path);
    expect(await file.poll()).toMatchObject({ kind: 'unchanged', size: 0 });
    const text = header + rows(0, 300);
    let from = 0;
    // Cut within the header, within a degree sign, between CR and LF, within numbers, and at line ends.
    const bytes = Buffer.from(text);
    const degree = bytes.indexOf(0xc2) + 1;
    const lineFeed = bytes.indexOf('\n', 200);
    for (const to of [3, degree, 60, 61, lineFeed, lineFeed + 1, 1000, 1007, 2500, bytes.length]) {
      await logger.write(bytes.subarray(from, to));
      from = to;
      expect(await look(file)).toMatchObject({ kind: 'grown', size: to });
      if (to >= 60) await expectSame(file);
      expect(await look(file)).toMatchObject({ kind: 'unchanged', size: to });
    }
    expect(file.recording().samples).toBe(300);
  });

  test('a partial last line is no reading until its end comes, or no more does', async () => {
    const lines = Array.from({ length: 30 }, (_, i) => 20.111 + i / 1000);
    await logger.open(path);
    await logger.write(`${header}${lines.map((value, i) => row(i, value)).join('')}3.0,2`);
    const file = followRecording(path);
    const means = (end: 'line' | 'file') => [...file.recording(end).blocks.mean].slice(29);
    await file.poll();
    expect(means('line')).toEqual([20.14]);
    expect(codes(file.recording())).toEqual([]);
    expect(means('file')).toEqual([20.14]);
    expect(codes(file.recording('file'))).toEqual(['samples-dropped']);
    await logger.write('0.333');
    await file.poll();
    expect(means('line')).toEqual([20.14]);
    expect(means('file')).toEqual([20.14, 20.333]);
    await logger.write('\r\n');
    await file.poll();
    expect(means('line')).toEqual([20.14, 20.333]);
  });

  test.each(['le', 'be'] as const)('in UTF-16, cut within characters (%s)', async (order) => {
    const bytes = utf16(`\ufeff${header}${rows(0, 60)}`, order);
    const lineEnd = utf16('\n', order);
    await logger.open(path);
    const file = followRecording(path);
    let from = 0;
    for (const to of [1, 2, 3, 5, 241, 242, 244, 777, bytes.length]) {
      await logger.write(bytes.subarray(from, to));
      from = to;
      await look(file);
      if (to >= 241) expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(path)));
    }
    await expectSame(file, lineEnd);
    expect(file.recording().samples).toBe(60);
  });

  test('with CR alone at the ends of lines', async () => {
    const text = (header + rows(0, 40)).replaceAll('\n', '');
    await logger.open(path);
    await logger.write(text.slice(0, 300));
    const file = followRecording(path);
    await file.poll();
    await expectSame(file, Buffer.from('\r'));
    await logger.write(text.slice(300));
    await file.poll();
    expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(path)));
  });

  test('beyond the bytes that it is understood from, in pieces and all at once', async () => {
    const text = header + rows(0, 22_000);
    const middle = Math.floor(text.length / 2) + 3;
    await logger.open(path);
    await logger.write(text.slice(0, middle));
    const file = followRecording(path);
    await look(file);
    await expectSame(file);
    await logger.write(text.slice(middle));
    await look(file);
    await expectSame(file);
    const late = followRecording(path);
    await look(late);
    expect(digits(late.recording())).toBe(digits(file.recording()));
  });

  test('a long file is caught up with in steps', async () => {
    // Comments are quick to read; 40 MiB are more than the 32 MiB that are read at once.
    writeFileSync(path, header + rows(0, 20) + `# ${'-'.repeat(1021)}\n`.repeat(40 * 1024) + rows(20, 40));
    const file = followRecording(path);
    expect(await file.poll()).toMatchObject({ kind: 'grown', more: true });
    expect(file.recording().samples).toBe(20);
    expect(await file.poll()).toMatchObject({ kind: 'grown', more: false });
    expect(file.recording().samples).toBe(40);
  });

  test('a header that comes again begins a part, as in the whole file', async () => {
    await logger.open(path);
    await logger.write(header + rows(0, 50));
    const file = followRecording(path);
    await file.poll();
    await logger.write(header + rows(0, 30, 40));
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(file);
    expect(file.recording().samples).toBe(50);
    await logger.write(rows(30, 90, 40));
    await file.poll();
    await expectSame(file);
    expect(file.recording().samples).toBe(90);
    expect(codes(file.recording())).toContain('header-repeated');
  });

  test('two looks at once are one', async () => {
    await logger.open(path);
    await logger.write(header + rows(0, 50));
    const file = followRecording(path);
    const [a, b] = await Promise.all([file.poll(), file.poll()]);
    expect(a).toBe(b);
    await expectSame(file);
    await file.close();
    expect(() => file.poll()).toThrow(TypeError);
  });
});

describe('a power cut', () => {
  test('of the logger in the middle of a line loses and doubles nothing', async () => {
    await logger.open(path);
    await logger.write(`${header}${rows(0, 50)}5.0,2`);
    const file = followRecording(path);
    await file.poll();
    await logger.cut();
    expect(await file.poll()).toMatchObject({ kind: 'unchanged' });
    await expectSame(file);
    expect(file.recording().samples).toBe(50);
    // Started again, it appends to the same file, behind the torn line.
    await logger.open(path);
    await logger.write(`\r\n${header}${rows(0, 80, 30)}`);
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(file);
    expect(file.recording().samples).toBe(80);
  });

  test('that left a hole of NUL in the file', async () => {
    await logger.open(path);
    await logger.write(header + rows(0, 50));
    const file = followRecording(path);
    await file.poll();
    await logger.write(new Uint8Array(3 << 20));
    expect(await look(file)).toMatchObject({ kind: 'grown' });
    expect(file.recording().samples).toBe(50);
    await logger.write(rows(50, 90));
    await look(file);
    expect(file.recording().samples).toBe((await readRecordingFile(path)).samples);
    expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(path)));
  });
});

test('room that a logger keeps at the end of its file is no content until it is filled', async () => {
  await logger.open(path, 'w+');
  await logger.truncate(4 << 20);
  const file = followRecording(path);
  expect(await file.poll()).toMatchObject({ size: 4 << 20 });
  expect(() => file.recording()).toThrow(RecordingError);
  const text = Buffer.from(header + rows(0, 90));
  await logger.write(text.subarray(0, 700), 0);
  expect(await look(file)).toMatchObject({ kind: 'grown' });
  expect(file.recording().samples).toBeGreaterThan(30);
  await logger.write(text.subarray(700), 700);
  expect(await look(file)).toMatchObject({ kind: 'grown' });
  const full = await readRecordingFile(path);
  expect(digits({ ...file.recording(), sha256: '', bytes: 0 })).toBe(
    digits({ ...full, sha256: '', bytes: 0 }),
  );
});

describe('a file that is not what it was', () => {
  beforeEach(async () => {
    await logger.open(path);
    await logger.write(header + rows(0, 600));
  });

  async function followed(): Promise<FollowedFile> {
    const file = followRecording(path);
    await file.poll();
    expect(file.recording().samples).toBe(600);
    return file;
  }

  test('replaced by rename: another recording begins anew', async () => {
    const file = await followed();
    const other = `${path}.tmp`;
    writeFileSync(other, header + rows(0, 700, 8));
    await logger.rename(other, path);
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'replaced' });
    await expectSame(file);
  });

  test('replaced by rename, the same in its first and last bytes only', async () => {
    const file = await followed();
    const other = `${path}.tmp`;
    const bytes = readFileSync(path);
    // Row 300 stands beyond the first 4096 bytes and before the last.
    const at = bytes.indexOf('\n30.0,') + 6;
    bytes.write('9', at);
    writeFileSync(other, bytes);
    expect(statSync(other).size).toBe(statSync(path).size);
    await logger.rename(other, path);
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'replaced' });
    await expectSame(file);
  });

  test('saved anew each time by rename: the same recording goes on', async () => {
    const file = await followed();
    for (const to of [650, 700, 750]) {
      const other = `${path}.tmp`;
      writeFileSync(other, header + rows(0, to));
      await logger.rename(other, path);
      expect(await file.poll()).toMatchObject({ kind: 'grown' });
      await expectSame(file);
    }
  });

  test('truncated and restarted', async () => {
    const file = await followed();
    await logger.truncate();
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'truncated', size: 0 });
    expect(() => file.recording()).toThrow(RecordingError);
    await logger.write(header + rows(0, 30, 3));
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(file);
  });

  test('truncated and grown beyond what it was between two looks', async () => {
    const file = await followed();
    await logger.truncate();
    await logger.write(header + rows(0, 900, 3));
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'rewritten' });
    await expectSame(file);
  });

  test('written over in place at the same length', async () => {
    const file = await followed();
    await logger.open(path, 'r+');
    await logger.write(header + rows(0, 600, 2));
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'rewritten' });
    await expectSame(file);
  });

  test('written over in its middle only, seen by its time', async () => {
    const file = await followed();
    await logger.open(path, 'r+');
    await logger.write('9', readFileSync(path).indexOf('\n30.0,') + 6);
    // Whatever the resolution of the clock of the file system.
    utimesSync(path, 1, 1);
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'rewritten' });
    await expectSame(file);
  });

  test('touched, but the same', async () => {
    const file = await followed();
    utimesSync(path, 2, 2);
    expect(await file.poll()).toMatchObject({ kind: 'unchanged' });
    await expectSame(file);
  });

  test('gone, and back the same or as another', async () => {
    const file = await followed();
    const kept = `${path}.kept`;
    await logger.rename(path, kept);
    const gone = await file.poll();
    expect(gone).toMatchObject({ kind: 'gone', error: { code: 'unreadable' } });
    expect(file.recording().samples).toBe(600);
    copyFileSync(kept, path);
    expect(await file.poll()).toMatchObject({ kind: 'unchanged' });
    await logger.remove(path);
    expect(await file.poll()).toMatchObject({ kind: 'gone' });
    writeFileSync(path, header + rows(0, 650, 1));
    expect(await file.poll()).toMatchObject({ kind: 'restarted' });
    await expectSame(file);
  });
});

describe('a file that cannot be opened or read for a moment', () => {
  function systemError(code: string): Error {
    return Object.assign(new Error(`${code}: planted`), { code });
  }

  test.each([
    ['EACCES', 'not permitted'],
    ['EPERM', 'not permitted'],
    ['EBUSY', 'locked'],
    ['ESTALE', 'ESTALE'],
    ['EIO', 'EIO'],
  ])('%s', async (code, words) => {
    let failure: Error | null = systemError(code);
    const file = followRecording(path, {}, async (name) => {
      if (failure !== null) throw failure;
      return open(name);
    });
    await logger.open(path);
    await logger.write(header + rows(0, 50));
    expect(await file.poll()).toMatchObject({
      kind: 'locked',
      error: { message: expect.stringContaining(words) },
    });
    failure = null;
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    failure = systemError(code);
    await logger.write(rows(50, 70));
    expect(await file.poll()).toMatchObject({ kind: 'locked' });
    expect(file.recording().samples).toBe(50);
    failure = null;
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(file);
  });

  test('while it is read: what was read counts, and is not read twice', async () => {
    // Two pieces of 1 MiB; the second cannot be read at first.
    writeFileSync(path, header + rows(0, 90_000));
    let broken = true;
    const closed: string[] = [];
    const opened = async (name: string): Promise<OpenFile> => {
      const handle = await open(name);
      const real: OpenFile['read'] = handle.read.bind(handle);
      handle.read = async (...parameters: unknown[]) => {
        if (broken && Number(parameters[3]) > 1 << 19) throw systemError('EBUSY');
        return Reflect.apply(real, handle, parameters);
      };
      const close = handle.close.bind(handle);
      handle.close = async () => {
        closed.push(name);
        return close();
      };
      return handle;
    };
    const file = followRecording(path, {}, opened);
    expect(await file.poll()).toMatchObject({ kind: 'locked' });
    const some = file.recording().samples;
    expect(some).toBeGreaterThan(0);
    expect(some).toBeLessThan(90_000);
    broken = false;
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(file);
    expect(closed).toHaveLength(2);
  });

  test('a mistake in the program is not taken for one of the file', async () => {
    const file = followRecording(path, {}, async () => {
      throw new TypeError('planted');
    });
    await expect(file.poll()).rejects.toThrow('planted');
  });
});

describe('what cannot be followed', () => {
  test('gzip, until text takes its place', async () => {
    const packed = gzipSync(header + rows(0, 500));
    await logger.open(path, 'w');
    await logger.write(packed.subarray(0, 100));
    const file = followRecording(path);
    expect(await file.poll()).toMatchObject({
      kind: 'refused',
      error: { code: 'not-text', message: expect.stringContaining('gzip') },
    });
    expect(() => file.recording()).toThrow('gzip');
    await logger.write(packed.subarray(100));
    expect(await file.poll()).toMatchObject({ kind: 'refused' });
    await logger.open(path, 'w');
    await logger.write(header + rows(0, 50));
    expect(await file.poll()).toMatchObject({ kind: 'restarted' });
    await expectSame(file);
  });

  test('a line without end is refused, not kept', async () => {
    writeFileSync(path, header + rows(0, 50) + 'x'.repeat(3 << 20));
    const file = followRecording(path);
    expect(await look(file)).toMatchObject({ kind: 'refused', error: { code: 'line-too-long' } });
    expect(await look(file)).toMatchObject({ kind: 'refused', error: { code: 'line-too-long' } });
  });

  test('a folder, a device and an impossible name', async () => {
    for (const name of [folder, '/dev/zero', `${folder}/a\0b`]) {
      expect(await followRecording(name).poll()).toMatchObject({
        kind: 'refused',
        error: { code: 'not-a-file' },
      });
    }
  });

  test('options that contradict each other', () => {
    expect(() => followRecording(path, { decimal: ',', thousands: ',' })).toThrow(RecordingError);
  });
});

test('a stretch of a recording that was followed is read once more, and no further than it went', async () => {
  await logger.open(path);
  await logger.write(`${header}${rows(0, 40_000)}4000.0,2`);
  const file = followRecording(path);
  await look(file);
  const recording = file.recording();
  await logger.write(`5.5\r\n${rows(40_001, 40_100)}`);
  await look(file);
  const samples = await readSamples(recording, 3999.65, Number.POSITIVE_INFINITY, 1000);
  expect([...samples.time]).toEqual([3999.7, 3999.8, 3999.9]);
  const later = await readSamples(file.recording(), 3999.95, 4000.05, 1000);
  expect([...later.value]).toEqual([25.5]);
});

describe('the coarse view', () => {
  test('has the means of the readings themselves', async () => {
    const n = 9_000;
    writeFileSync(path, header + rows(0, n));
    const file = followRecording(path);
    await look(file);
    for (const most of [2, 100, 2000, 9_000]) {
      const { blocks, samples } = file.coarse(most);
      expect(blocks.length).toBeLessThanOrEqual(most);
      expect(samples).toBe(n);
      const perCell = Math.round(blocks.width * 10);
      let worst = 0;
      let worstCount = 0;
      for (let k = 0; k < blocks.length; k++) {
        const from = (blocks.cell[k] ?? 0) * perCell;
        const own = Array.from({ length: Math.min(perCell, n - from) }, (_, i) =>
          Number((20 + 5 * Math.sin((from + i) / 9)).toFixed(3)),
        );
        const mean = own.reduce((sum, x) => sum + x, 0) / own.length;
        worstCount = Math.max(worstCount, Math.abs((blocks.count[k] ?? 0) - own.length));
        worst = Math.max(worst, Math.abs((blocks.mean[k] ?? 0) - mean));
      }
      expect(worstCount).toBe(0);
      // Sums of 9000 numbers of about 20 in doubles are good to 1e-10.
      expect(worst).toBeLessThan(1e-10);
    }
    expect(digits(file.coarse(9_000).blocks)).toBe(digits(file.recording().blocks));
  });

  test('keeps companions on the same grid', async () => {
    const both = (i: number) => `${i / 10},${20 + (i % 7)},${i % 3 === 0 ? 21 : ''}\n`;
    writeFileSync(
      path,
      `Time (s),T (°C),Room (°C)\n${Array.from({ length: 5000 }, (_, i) => both(i)).join('')}`,
    );
    const file = followRecording(path, { channel: 'T', companions: ['Room'] });
    await look(file);
    const { blocks, companions } = file.coarse(50);
    expect(companions[0]?.blocks.width).toBe(blocks.width);
    expect(companions[0]?.blocks.mean.every((value) => value === 21)).toBe(true);
    expect(blocks.length).toBeLessThanOrEqual(50);
  });

  test('goes with a file that is still too short to be understood for good', async () => {
    await logger.open(path);
    const file = followRecording(path);
    await logger.write(header);
    await file.poll();
    expect(() => file.coarse(100)).toThrow(RecordingError);
    for (const [from, to] of [
      [0, 3],
      [3, 500],
      [500, 520],
      [520, 540],
      [540, 20_000],
      [20_000, 20_100],
    ] as const) {
      await logger.write(rows(from, to));
      await file.poll();
      expect(file.coarse(100).samples).toBe(to);
      expect(digits(file.coarse(30_000))).toBe(digits(asRecording(file)));
    }
  });
});

/** Without what only a file has. */
function asRecording(file: FollowedFile) {
  const { path: _, sha256, bytes, ...recording } = file.recording();
  return recording;
}
