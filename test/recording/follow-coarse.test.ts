import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type FollowedFile, followRecording } from '../../src/recording/files.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { followBench, header, look, rows } from './followed.ts';
import { digits } from './helpers.ts';

const bench = followBench();

describe('the coarse view', () => {
  test('has the means of the readings themselves', async () => {
    const n = 9_000;
    writeFileSync(bench.path, header + rows(0, n));
    const file = followRecording(bench.path);
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
      bench.path,
      `Time (s),T (°C),Room (°C)\n${Array.from({ length: 5000 }, (_, i) => both(i)).join('')}`,
    );
    const file = followRecording(bench.path, { channel: 'T', companions: ['Room'] });
    await look(file);
    const { blocks, companions } = file.coarse(50);
    expect(companions[0]?.blocks.width).toBe(blocks.width);
    expect(companions[0]?.blocks.mean.every((value) => value === 21)).toBe(true);
    expect(blocks.length).toBeLessThanOrEqual(50);
  });

  test('goes with a file that is still too short to be understood for good', async () => {
    await bench.logger.open(bench.path);
    const file = followRecording(bench.path);
    await bench.logger.write(header);
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
      await bench.logger.write(rows(from, to));
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
