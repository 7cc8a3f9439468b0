import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { killOften } from '../../scripts/crash/kill-often.ts';

describe('a server that is killed while people work', () => {
  test('loses nothing that it has acknowledged, and leaves nothing half-written', async () => {
    expect(existsSync('dist/main.js'), 'npm run build makes the command that is killed').toBe(true);
    const { losses, faults, counts } = await killOften({ kills: 3, seed: 7, every: 1 });
    expect(losses).toEqual([]);
    expect(faults).toEqual([]);
    const done = [...counts.values()].reduce((sum, one) => sum + one.done, 0);
    expect(done).toBeGreaterThan(0);
  }, 180_000);
});
