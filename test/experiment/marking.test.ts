import { describe, expect, test } from 'vitest';
import {
  experimentSchema,
  parseChecked,
  submittedQuantities,
  toleranceWords,
} from '../../src/experiment/index.ts';
import { experimentOf } from './read.ts';

function faultsOf(yaml: string): { line: number; place: string; message: string }[] {
  const checked = parseChecked(yaml, experimentSchema);
  return checked.ok ? [] : checked.faults.map((one) => ({ ...one }));
}

describe('marking in an experiment file', () => {
  test('has its usual values where nothing is written', () => {
    const { marking } = experimentOf('mains: 50 Hz');
    expect(marking.tolerance.point).toEqual({ kind: 'percent', percent: 5, of: 'expected' });
    expect(Object.keys(marking.tolerance).toSorted()).toEqual([...submittedQuantities].toSorted());
    expect(marking.rubric).toEqual([]);
    expect(marking.asked).toContain('origin');
  });

  test.each([
    [
      '3 % of the recomputed value',
      { kind: 'percent', percent: 3, of: 'expected' },
      '3 % of the recomputed value',
    ],
    ['3% of recomputed', { kind: 'percent', percent: 3, of: 'expected' }, '3 % of the recomputed value'],
    [
      '2.5 % of the submitted value',
      { kind: 'percent', percent: 2.5, of: 'submitted' },
      '2.5 % of the submitted value',
    ],
    ['4 % of the mean', { kind: 'percent', percent: 4, of: 'mean' }, '4 % of the mean of both'],
    ['4 % of the mean of both', { kind: 'percent', percent: 4, of: 'mean' }, '4 % of the mean of both'],
    ['2 uncertainties', { kind: 'uncertainties', factor: 2 }, '2 standard uncertainties'],
    ['1 standard uncertainty', { kind: 'uncertainties', factor: 1 }, '1 standard uncertainty'],
  ])('understands a tolerance of %s', (text, tolerance, words) => {
    const { marking } = experimentOf(`marking: { tolerance: { origin: ${text} } }`);
    expect(marking.tolerance.origin).toEqual(tolerance);
    expect(toleranceWords(marking.tolerance.origin)).toBe(words);
    expect(experimentOf(`marking: { tolerance: { origin: ${words} } }`).marking.tolerance.origin).toEqual(
      tolerance,
    );
  });

  test('takes a rubric in the own words of the course', () => {
    const { marking } = experimentOf(`marking:
  asked: [point, origin]
  rubric:
    - { code: values, points: 4, words: Time constants from the recordings., of: [point, origin] }
    - { code: discussion, points: 6, words: Why the three differ. }`);
    expect(marking.rubric).toEqual([
      { code: 'values', points: 4, words: 'Time constants from the recordings.', of: ['point', 'origin'] },
      { code: 'discussion', points: 6, words: 'Why the three differ.', of: [] },
    ]);
  });

  test.each([
    ['tolerance: { origin: 3 % }', 'does not say what it is a percentage of'],
    ['tolerance: { origin: 3 % of the smaller value }', 'is no tolerance'],
    ['tolerance: { origin: 0 % of the mean }', 'more than 0 %'],
    ['tolerance: { origin: 300 % of the mean }', 'at most 100 %'],
    ['tolerance: { tau: 3 % of the mean }', 'tau'],
    ['tolerance: { origin: 3 }', 'is no tolerance'],
    ['asked: [colour]', 'write one of point, origin'],
    ['asked: [point, point]', 'twice'],
    ['rubric: [{ code: a, points: 0, words: x }]', 'more than 0'],
    ['rubric: [{ code: =cmd, points: 1, words: x }]', 'a code is made of'],
    ['rubric: [{ code: a, points: 1, words: x }, { code: A, points: 1, words: y }]', 'same code'],
    ['asked: [point], rubric: [{ code: a, points: 1, words: x, of: [biot] }]', 'not asked for biot'],
  ])('names a fault with its mend: %s', (text, words) => {
    const faults = faultsOf(`marking: { ${text} }`);
    expect(faults).toHaveLength(1);
    expect(`${faults[0]?.place} ${faults[0]?.message}`).toContain(words);
  });
});
