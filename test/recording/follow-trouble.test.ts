import { writeFileSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { followRecording, type OpenFile, readSamples } from '../../src/recording/files.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { expectSame, followBench, header, look, rows } from './followed.ts';

const bench = followBench();

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
    const file = followRecording(bench.path, {}, async (name) => {
      if (failure !== null) throw failure;
      return open(name);
    });
    await bench.logger.open(bench.path);
    await bench.logger.write(header + rows(0, 50));
    expect(await file.poll()).toMatchObject({
      kind: 'locked',
      error: { message: expect.stringContaining(words) },
    });
    failure = null;
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    failure = systemError(code);
    await bench.logger.write(rows(50, 70));
    expect(await file.poll()).toMatchObject({ kind: 'locked' });
    expect(file.recording().samples).toBe(50);
    failure = null;
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(bench, file);
  });

  test('while it is read: what was read counts, and is not read twice', async () => {
    // Two pieces of 1 MiB; the second cannot be read at first.
    writeFileSync(bench.path, header + rows(0, 90_000));
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
    const file = followRecording(bench.path, {}, opened);
    expect(await file.poll()).toMatchObject({ kind: 'locked' });
    const some = file.recording().samples;
    expect(some).toBeGreaterThan(0);
    expect(some).toBeLessThan(90_000);
    broken = false;
    expect(await file.poll()).toMatchObject({ kind: 'grown' });
    await expectSame(bench, file);
    expect(closed).toHaveLength(2);
  });

  test('a mistake in the program is not taken for one of the file', async () => {
    const file = followRecording(bench.path, {}, async () => {
      throw new TypeError('planted');
    });
    await expect(file.poll()).rejects.toThrow('planted');
  });
});

describe('what cannot be followed', () => {
  test('gzip, until text takes its place', async () => {
    const packed = gzipSync(header + rows(0, 500));
    await bench.logger.open(bench.path, 'w');
    await bench.logger.write(packed.subarray(0, 100));
    const file = followRecording(bench.path);
    expect(await file.poll()).toMatchObject({
      kind: 'refused',
      error: { code: 'not-text', message: expect.stringContaining('gzip') },
    });
    expect(() => file.recording()).toThrow('gzip');
    await bench.logger.write(packed.subarray(100));
    expect(await file.poll()).toMatchObject({ kind: 'refused' });
    await bench.logger.open(bench.path, 'w');
    await bench.logger.write(header + rows(0, 50));
    expect(await file.poll()).toMatchObject({ kind: 'restarted' });
    await expectSame(bench, file);
  });

  test('a line without end is refused, not kept', async () => {
    writeFileSync(bench.path, header + rows(0, 50) + 'x'.repeat(3 << 20));
    const file = followRecording(bench.path);
    expect(await look(file)).toMatchObject({ kind: 'refused', error: { code: 'line-too-long' } });
    expect(await look(file)).toMatchObject({ kind: 'refused', error: { code: 'line-too-long' } });
  });

  test('a folder, a device and an impossible name', async () => {
    for (const name of [bench.folder, '/dev/zero', join(bench.folder, 'a\0b')]) {
      expect(await followRecording(name).poll()).toMatchObject({
        kind: 'refused',
        error: { code: 'not-a-file' },
      });
    }
  });

  test('options that contradict each other', () => {
    expect(() => followRecording(bench.path, { decimal: ',', thousands: ',' })).toThrow(RecordingError);
  });
});

test('a stretch of a recording that was followed is read once more, and no further than it went', async () => {
  await bench.logger.open(bench.path);
  await bench.logger.write(`${header}${rows(0, 40_000)}4000.0,2`);
  const file = followRecording(bench.path);
  await look(file);
  const recording = file.recording();
  await bench.logger.write(`5.5\r\n${rows(40_001, 40_100)}`);
  await look(file);
  const samples = await readSamples(recording, 3999.65, Number.POSITIVE_INFINITY, 1000);
  expect([...samples.time]).toEqual([3999.7, 3999.8, 3999.9]);
  const later = await readSamples(file.recording(), 3999.95, 4000.05, 1000);
  expect([...later.value]).toEqual([25.5]);
});
