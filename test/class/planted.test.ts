import { afterAll, expect, test } from 'vitest';
import { openDesk } from '../../scripts/prove/desk.ts';
import { firstShare, tallyOf, totalOf } from '../../scripts/slips/tally.ts';
import { tryBenches } from '../../scripts/slips/try-benches.ts';
import { thornwickExperiment } from '../practice/wishes.ts';

const desk = openDesk();
afterAll(() => desk.close());

// A few of the recordings that `npm run slips` takes; what it promises stands at the foot of its table.
test('slips that simulated groups make are named first, and right work is left alone', async () => {
  const groups = { right: 4, single: 9, pairs: 0 };
  const wanted = { benches: 3, seed: 'quick', groups };
  const tally = tallyOf(await tryBenches(desk, thornwickExperiment(), wanted));
  const single = totalOf(tally.single.values());
  expect(tally.right.submissions).toBe(12);
  expect(tally.right.accused).toBe(0);
  expect(single.first + single.other + single.none).toBeGreaterThan(15);
  expect(firstShare(single)).toBeGreaterThan(0.95);
}, 180_000);
