import { copyFileSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { beforeEach, describe, expect, test } from 'vitest';
import { type FollowedFile, followRecording, readRecordingFile } from '../../src/recording/files.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { expectSame, followBench, header, look, row, rows } from './followed.ts';
import { codes, digits, utf16 } from './helpers.ts';

const bench = followBench();

describe('a file that a logger appends to', () => {
  test('in bursts, with partial last lines and a line end in two halves', async () => {
    const file = followRecording(bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'gone' });
    await bench.logger.open(bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'unchanged', size: 0 });
    const text = header + rows(0, 300);
    let from = 0;
    // Cut within the header, within a degree sign, between CR and LF, within numbers, and at line ends.
    const bytes = Buffer.from(text);
    const degree = bytes.indexOf(0xc2) + 1;
    const lineFeed = bytes.indexOf('\n', 200);
    for (const to of [3, degree, 60, 61, lineFeed, lineFeed + 1, 1000, 1007, 2500, bytes.length]) {
      await bench.logger.write(bytes.subarray(from, to));
      from = to;
      expect(await look(file)).toMatchObject({ kind: 'grown', size: to });
      if (to >= 60) await expectSame(bench, file);
      expect(await look(file)).toMatchObject({ kind: 'unchanged', size: to });
    }
    expect(file.recording().samples).toBe(300);
  });

  test('a partial last line is no reading until its end comes, or no more does', async () => {
    const lines = Array.from({ length: 30 }, (_, i) => 20.111 + i / 1000);
    await bench.logger.open(bench.path);
    await bench.logger.write(`${header}${lines.map((value, i) => row(i, value)).join('')}3.0,2`);
    const file = followRecording(bench.path);
    const means = (end: 'line' | 'file') => [...file.recording(end).blocks.mean].slice(29);
    await file.poll();
    expect(means('line')).toEqual([20.14]);
    expect(codes(file.recording())).toEqual([]);
    expect(means('file')).toEqual([20.14]);
    expect(codes(file.recording('file'))).toEqual(['samples-dropped']);
    await bench.logger.write('0.333');
    await file.poll();
    expect(means('line')).toEqual([20.14]);
    expect(means('file')).toEqual([20.14, 20.333]);
    await bench.logger.write('\r\n');
    await file.poll();
    expect(means('line')).toEqual([20.14, 20.333]);
  });

  test.each(['le', 'be'] as const)('in UTF-16, cut within characters (%s)', async (order) => {
    const bytes = utf16(`\ufeff${header}${rows(0, 60)}`, order);
    const lineEnd = utf16('\n', order);
    await bench.logger.open(bench.path);
    const file = followRecording(bench.path);
    let from = 0;
    for (const to of [1, 2, 3, 5, 241, 242, 244, 777, bytes.length]) {
      await bench.logger.write(bytes.subarray(from, to));
      from = to;
      await look(file);
      if (to >= 241) expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(bench.path)));
    }
    await expectSame(bench, file, lineEnd);
    expect(file.recording().samples).toBe(60);
  });

  test('with CR alone at the ends of lines', async () => {
    const text = (header + rows(0, 40)).replaceAll('\n', '');
    await bench.logger.open(bench.path);
    await bench.logger.write(text.slice(0, 300));
    const file = followRecording(bench.path);
    await file.poll();
    await expectSame(bench, file, Buffer.from('\r'));
    await bench.logger.write(text.slice(300));
    await file.poll();
    expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(bench.path)));
  });

  test('beyond the bytes that it is understood from, in pieces and all at once', async () => {
    const text = header + rows(0, 22_000);
    const middle = Math.floor(text.length / 2) + 3;
    await bench.logger.open(bench.path);
    await bench.logger.write(text.slice(0, middle));
    const file = followRecording(bench.path);
    await look(file);
    await expectSame(bench, file);
    await bench.logger.write(text.slice(middle));
    await look(file);
    await expectSame(bench, file);
    const late = followRecording(bench.path);
    await look(late);
    expect(digits(late.recording())).toBe(digits(file.recording()));
  });

  test('a long file is caught up with in steps', async () => {
    // Comments are quick to read; 40 MiB are more than the 32 MiB that are read at once.
    writeFileSync(
      bench.path,
      header + rows(0, 20) + `# ${'-'.repeat(1021)}\n`.repeat(40 * 1024) + rows(20, 40),
    );
    const file = followRecording(bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'grown', more: true });
    expect(file.recording().samples).toBe(20);
    expect(await file.poll()).toMatchObject({ kind: 'grown', more: false });
    expect(file.recording().samples).toBe(40);
  });

  test('a header that comes again begins a part, as in the whole file', async () => {
    await bench.logger.open(bench.path);
    await bench.logger.write(header + rows(0, 50));
    const file = followRecording(bench.path);
    await file.poll();
    await bench.logger.write(header + rows(0, 30, 40));
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(bench, file);
    expect(file.recording().samples).toBe(50);
    await bench.logger.write(rows(30, 90, 40));
    await file.poll();
    await expectSame(bench, file);
    expect(file.recording().samples).toBe(90);
    expect(codes(file.recording())).toContain('header-repeated');
  });

  test('two looks at once are one', async () => {
    await bench.logger.open(bench.path);
    await bench.logger.write(header + rows(0, 50));
    const file = followRecording(bench.path);
    const [a, b] = await Promise.all([file.poll(), file.poll()]);
    expect(a).toBe(b);
    await expectSame(bench, file);
    await file.close();
    expect(() => file.poll()).toThrow(TypeError);
  });
});

describe('a power cut', () => {
  test('of the logger in the middle of a line loses and doubles nothing', async () => {
    await bench.logger.open(bench.path);
    await bench.logger.write(`${header}${rows(0, 50)}5.0,2`);
    const file = followRecording(bench.path);
    await file.poll();
    await bench.logger.cut();
    expect(await file.poll()).toMatchObject({ kind: 'unchanged' });
    await expectSame(bench, file);
    expect(file.recording().samples).toBe(50);
    // Started again, it appends to the same file, behind the torn line.
    await bench.logger.open(bench.path);
    await bench.logger.write(`\r\n${header}${rows(0, 80, 30)}`);
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(bench, file);
    expect(file.recording().samples).toBe(80);
  });

  test('that left a hole of NUL in the file', async () => {
    await bench.logger.open(bench.path);
    await bench.logger.write(header + rows(0, 50));
    const file = followRecording(bench.path);
    await file.poll();
    await bench.logger.write(new Uint8Array(3 << 20));
    expect(await look(file)).toMatchObject({ kind: 'grown' });
    expect(file.recording().samples).toBe(50);
    await bench.logger.write(rows(50, 90));
    await look(file);
    expect(file.recording().samples).toBe((await readRecordingFile(bench.path)).samples);
    expect(digits(file.recording('file'))).toBe(digits(await readRecordingFile(bench.path)));
  });
});

test('room that a logger keeps at the end of its file is no content until it is filled', async () => {
  await bench.logger.open(bench.path, 'w+');
  await bench.logger.truncate(4 << 20);
  const file = followRecording(bench.path);
  expect(await file.poll()).toMatchObject({ size: 4 << 20 });
  expect(() => file.recording()).toThrow(RecordingError);
  const text = Buffer.from(header + rows(0, 90));
  await bench.logger.write(text.subarray(0, 700), 0);
  expect(await look(file)).toMatchObject({ kind: 'grown' });
  expect(file.recording().samples).toBeGreaterThan(30);
  await bench.logger.write(text.subarray(700), 700);
  expect(await look(file)).toMatchObject({ kind: 'grown' });
  const full = await readRecordingFile(bench.path);
  expect(digits({ ...file.recording(), sha256: '', bytes: 0 })).toBe(
    digits({ ...full, sha256: '', bytes: 0 }),
  );
});

describe('a file that is not what it was', () => {
  beforeEach(async () => {
    await bench.logger.open(bench.path);
    await bench.logger.write(header + rows(0, 600));
  });

  async function followed(): Promise<FollowedFile> {
    const file = followRecording(bench.path);
    await file.poll();
    expect(file.recording().samples).toBe(600);
    return file;
  }

  test('replaced by rename: another recording begins anew', async () => {
    const file = await followed();
    const other = `${bench.path}.tmp`;
    writeFileSync(other, header + rows(0, 700, 8));
    await bench.logger.rename(other, bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'replaced' });
    await expectSame(bench, file);
  });

  test('replaced by rename, the same in its first and last bytes only', async () => {
    const file = await followed();
    const other = `${bench.path}.tmp`;
    const bytes = readFileSync(bench.path);
    // Row 300 stands beyond the first 4096 bytes and before the last.
    const at = bytes.indexOf('\n30.0,') + 6;
    bytes.write('9', at);
    writeFileSync(other, bytes);
    expect(statSync(other).size).toBe(statSync(bench.path).size);
    await bench.logger.rename(other, bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'replaced' });
    await expectSame(bench, file);
  });

  test('saved anew each time by rename: the same recording goes on', async () => {
    const file = await followed();
    for (const to of [650, 700, 750]) {
      const other = `${bench.path}.tmp`;
      writeFileSync(other, header + rows(0, to));
      await bench.logger.rename(other, bench.path);
      expect(await file.poll()).toMatchObject({ kind: 'grown' });
      await expectSame(bench, file);
    }
  });

  test('truncated and restarted', async () => {
    const file = await followed();
    await bench.logger.truncate();
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'truncated', size: 0 });
    expect(() => file.recording()).toThrow(RecordingError);
    await bench.logger.write(header + rows(0, 30, 3));
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(bench, file);
  });

  test('truncated and grown beyond what it was between two looks', async () => {
    const file = await followed();
    await bench.logger.truncate();
    await bench.logger.write(header + rows(0, 900, 3));
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'rewritten' });
    await expectSame(bench, file);
  });

  test('written over in place at the same length', async () => {
    const file = await followed();
    await bench.logger.open(bench.path, 'r+');
    await bench.logger.write(header + rows(0, 600, 2));
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'rewritten' });
    await expectSame(bench, file);
  });

  test('written over in its middle only, seen by its time', async () => {
    const file = await followed();
    await bench.logger.open(bench.path, 'r+');
    await bench.logger.write('9', readFileSync(bench.path).indexOf('\n30.0,') + 6);
    // Whatever the resolution of the clock of the file system.
    utimesSync(bench.path, 1, 1);
    expect(await file.poll()).toMatchObject({ kind: 'restarted', why: 'rewritten' });
    await expectSame(bench, file);
  });

  test('touched, but the same', async () => {
    const file = await followed();
    utimesSync(bench.path, 2, 2);
    expect(await file.poll()).toMatchObject({ kind: 'unchanged' });
    await expectSame(bench, file);
  });

  test('gone, and back the same or as another', async () => {
    const file = await followed();
    const kept = `${bench.path}.kept`;
    await bench.logger.rename(bench.path, kept);
    const gone = await file.poll();
    expect(gone).toMatchObject({ kind: 'gone', error: { code: 'unreadable' } });
    expect(file.recording().samples).toBe(600);
    copyFileSync(kept, bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'unchanged' });
    await bench.logger.remove(bench.path);
    expect(await file.poll()).toMatchObject({ kind: 'gone' });
    writeFileSync(bench.path, header + rows(0, 650, 1));
    expect(await file.poll()).toMatchObject({ kind: 'restarted' });
    await expectSame(bench, file);
  });
});
