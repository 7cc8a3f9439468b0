import { describe, expect, test } from 'vitest';
import { rigCharts, rigSeries, rigStateWords } from '../../src/class/index.ts';
import { standingsOf } from '../../src/rig/index.ts';
import { check, day, session, thornwick } from '../rig/thornwick.ts';

describe('the state of the rigs in words', () => {
  test('counts checks, and names what failed and what changed with what to do', () => {
    const checks = Array.from({ length: 12 }, (_, i) =>
      check({
        kind: 'gain',
        value: (i < 6 ? 200 : 202) + 0.05 * (i % 3),
        written: '200',
        at: new Date(session - (12 - i) * day).toISOString(),
      }),
    );
    const standings = standingsOf(thornwick(), checks, session);
    const words = rigStateWords(standings, rigCharts(rigSeries([{ term: 'a', checks, runs: [] }])));
    expect(words.checks).toMatch(
      /^Of \d+ checks 0 are in order, 1 failed or is too old, \d+ were never made\.$/,
    );
    expect(words.trouble).toEqual([expect.stringContaining('bench-1, gain: 200; it should be')]);
    expect(words.changes).toEqual([expect.stringMatching(/Bench-1, gain: since .* \(step\)\. Look at/)]);
    expect(words.followed).toBe(
      'Over the terms 1 series is followed: 1 changed, 0 steady, 0 with too few or equal values to tell.',
    );
  });

  test('says that nothing is followed where nothing was ever kept', () => {
    const words = rigStateWords(standingsOf(thornwick(), [], session), []);
    expect(words).toMatchObject({
      trouble: [],
      changes: [],
      followed: 'Nothing is followed over the terms yet.',
    });
  });
});
