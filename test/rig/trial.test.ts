import { describe, expect, test } from 'vitest';
import { rigRemarks } from '../../src/rig/index.ts';
import { check, day, minute, session, thornwick } from './thornwick.ts';

const course = thornwick();
const trial = { bench: null, group: 'A1', body: 'brass-12', flow: '60', began: session + 20 * minute };
const zero = check({ kind: 'zero', value: 9e-3, written: '9 mV' });

function codes(checks: Parameters<typeof rigRemarks>[1], changed: Partial<typeof trial> = {}) {
  return rigRemarks(course, checks, { ...trial, ...changed }).map(
    ({ code, severity }) => `${severity} ${code}`,
  );
}

describe('what the checks of its rig say of a trial', () => {
  test('is nothing where nobody checked, or all is in order', () => {
    expect(codes([])).toEqual([]);
    expect(codes([check({ kind: 'zero', value: 1.2e-3, written: '1.2 mV' })])).toEqual([]);
  });

  test('is a caution after a check that failed, with its number and its mend', () => {
    const [remark] = rigRemarks(course, [zero], trial);
    expect(remark).toMatchObject({ code: 'rig-check-outside', severity: 'caution' });
    expect(remark?.message).toMatch(
      /bench-1, zero with shorted input: 9 mV; it should be 1\.3 mV ± 2\.4 mV\.$/,
    );
    expect(remark?.action).toContain('warm up');
  });

  test('is a note after a check that is too old', () => {
    const old = check({
      kind: 'zero',
      value: 1.2e-3,
      written: '1.2 mV',
      at: new Date(session - 7 * day).toISOString(),
    });
    expect(codes([old])).toEqual(['note rig-check-stale']);
  });

  test('is nothing before the check, at another bench, or after a better one', () => {
    expect(codes([zero], { began: session - minute })).toEqual([]);
    expect(codes([zero], { group: 'A2' })).toEqual([]);
    const better = {
      ...zero,
      id: 'better',
      value: 1.3e-3,
      written: '1.3 mV',
      at: new Date(session + minute).toISOString(),
    };
    expect(codes([zero, better])).toEqual([]);
    expect(codes([zero, better], { began: session + minute / 2 })).toEqual(['caution rig-check-outside']);
  });

  test('is about its own body and flow', () => {
    const body = check({
      kind: 'diameter',
      value: 0.0125,
      written: '12.5 mm',
      bench: null,
      subject: 'brass-12',
    });
    const flow = check({ kind: 'flow', value: 0.0012, written: '72 L/min', subject: '60' });
    expect(codes([body, flow])).toHaveLength(2);
    expect(codes([body, flow], { body: 'brass-20' })).toHaveLength(1);
    expect(codes([body, flow], { body: 'brass-20', flow: '120' })).toEqual([]);
  });

  test('is nothing where its time is not known', () => {
    expect(codes([zero], { began: Number.NaN })).toEqual([]);
  });
});
