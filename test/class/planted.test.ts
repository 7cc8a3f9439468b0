import { afterAll, expect, test } from 'vitest';
import { openDesk } from '../../scripts/prove/desk.ts';
import { firstShare, tallyOf, totalOf } from '../../scripts/slips/tally.ts';
import { tryBenches } from '../../scripts/slips/try-benches.ts';
import { thornwickExperiment } from '../practice/wishes.ts';

const desk = openDesk();
afterAll(() => desk.close());

// A few of the recordings that `npm run slips` takes; what it promises stands at the foot of its table.
test('slips that simulated groups make are named first, and right work is left alone', async () => {
  const tally = tallyOf(await tryBenches(desk, thornwickExperiment(), { benches: 5, seed: 'quick' }));
  const single = totalOf(tally.single.values());
  expect(tally.right.submissions).toBeGreaterThan(20);
  expect(tally.right.accused).toBe(0);
  expect(single.first + single.other + single.none).toBeGreaterThan(30);
  expect(firstShare(single)).toBeGreaterThan(0.95);
});
