import { expect, test } from 'vitest';
import { figures, spokenTime } from '../../src/live/gate-words.ts';

test.each([
  [0, '0 s'],
  [-3, '0 s'],
  [4.26, '4.3 s'],
  [9.96, '10 s'],
  [40.4, '40 s'],
  [89.6, '1 min 30 s'],
  [100, '1 min 40 s'],
  [119, '2 min'],
  [130, '2 min 10 s'],
  [725, '12 min'],
  [3600, '60 min'],
  [Number.POSITIVE_INFINITY, 'an unknown time'],
])('%d s are spoken as %s', (seconds, spoken) => {
  expect(spokenTime(seconds)).toBe(spoken);
});

test.each([
  [12.345, 3, '12.3'],
  [-0.5, 3, '−0.5'],
  [1.75e308, 2, 'unknown'],
  [Number.NaN, 3, 'unknown'],
])('%d to %d figures is %s', (x, digits, shown) => {
  expect(figures(x, digits)).toBe(shown);
});
