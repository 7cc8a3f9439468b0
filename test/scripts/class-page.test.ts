import { expect, test } from 'vitest';
import {
  type ClassTimes,
  classSection,
  classSectionIn,
  ratioOf,
  withClassSection,
} from '../../scripts/bench/class-page.ts';

const times: ClassTimes = {
  recordings: 1000,
  groups: 125,
  cold: [
    { one: 60, two: 40 },
    { one: 60, two: 32 },
  ],
  analyze: { recordings: 200, one: 12, two: 6.5 },
  classAgain: [0.7, 0.9, 0.6, 1.4, 0.8],
  exportAgain: [0.5, 0.5, 0.6, 0.5, 0.5],
  load: [0.1, 1.2],
};

test('the part about a class says what is met and what is missed', () => {
  expect(ratioOf(times.cold)).toBe(1.875);
  const text = classSection(times);
  expect(text).toContain('at least 1.8 times as fast as one: 1.88, met');
  expect(text).toContain('less than 1 s: 0.80 s, met');
  const slow = classSection({ ...times, cold: [{ one: 60, two: 40 }], classAgain: [1.2] });
  expect(slow).toContain('1.50, missed');
  expect(slow).toContain('1.20 s, missed');
});

test('it is put at the end of a page once, and taken over into the next one', () => {
  const first = classSection(times);
  const second = classSection({ ...times, groups: 126 });
  const page = '# How fast it is\n\nText.\n\n## Start-up\n\nMore.\n';
  expect(classSectionIn(page)).toBeNull();
  expect(withClassSection(page, null)).toBe(page);
  const once = withClassSection(page, first);
  expect(classSectionIn(once)).toBe(first);
  expect(withClassSection(once, second)).toBe(withClassSection(page, second));
  // Between other parts it stays where it is.
  const between = `# A\n\n${first}\n## Z\n\nlast\n`;
  expect(withClassSection(between, second)).toBe(`# A\n\n${second}\n## Z\n\nlast\n`);
});
