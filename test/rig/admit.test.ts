import { describe, expect, test } from 'vitest';
import { type AskedCheck, admitCheck } from '../../src/rig/index.ts';
import { day, minute, session, thornwick } from './thornwick.ts';

const course = thornwick();

function admit(asked: Partial<AskedCheck>, experiment = course) {
  const whole = {
    kind: 'zero',
    value: '1.3 mV',
    bench: 'bench-1',
    subject: null,
    who: 'IK',
    note: '',
    at: null,
  };
  return admitCheck(experiment, { ...whole, ...asked }, session);
}

function refusal(asked: Partial<AskedCheck>, experiment = course): string {
  const admitted = admit(asked, experiment);
  return admitted.ok ? 'admitted' : `${admitted.message} ${admitted.mend}`;
}

describe('a check that is handed in', () => {
  // SI by definition; inch 25.4 mm, bar 100 kPa, room of the example at 100.8 kPa.
  test.each([
    [{ kind: 'zero', value: '1.3 mV' }, 0.0013],
    [{ kind: 'gain', value: '200.3' }, 200.3],
    [{ kind: 'ice-point', value: '32 °F' }, 0],
    [{ kind: 'jet-temperature', value: '20.4 degC' }, 20.4],
    [{ kind: 'flow', subject: '60', value: '60 L/min' }, 0.001],
    [{ kind: 'supply-pressure', value: '6.0 bar(g)' }, 700_800],
    [{ kind: 'supply-pressure', value: '7.0 bar(a)' }, 700_000],
    [{ kind: 'diameter', subject: 'brass-12', bench: null, value: '0.5 in' }, 0.0127],
    [{ kind: 'mass', subject: 'brass-20', bench: null, value: '35.6 g' }, 0.0356],
  ])('is kept in SI and as it was typed: %j', (asked, value) => {
    const admitted = admit(asked);
    expect(admitted.ok && admitted.check.value).toBeCloseTo(value, 9);
    expect(admitted.ok && admitted.check.written).toBe(asked.value);
    expect(admitted.ok && admitted.check.at).toBe('2026-03-02T10:00:00.000Z');
  });

  test('of a flow is read as its meter counts', () => {
    const mass = thornwick(
      ['  kind: variable-area\n', '  kind: mass\n'],
      ['  reference: { pressure: 101.325 kPa, temperature: 0 degC }   # what its scale is made for\n', ''],
      ['full-scale: 200 L/min', 'full-scale: 4 g/s'],
      ['  60: 60 L/min', '  60: 1.2 g/s'],
      ['  120: 120 L/min', '  120: 2.4 g/s'],
    );
    const admitted = admit({ kind: 'flow', subject: '60', value: '1.25 g/s' }, mass);
    expect(admitted.ok && admitted.check.value).toBeCloseTo(0.00125, 9);
    expect(refusal({ kind: 'flow', subject: '60', value: '60 L/min' }, mass)).toContain('counted by mass');
    const speed = thornwick(['  60: 60 L/min', '  60: 5 m/s']);
    const fast = admit({ kind: 'flow', subject: '60', value: '5.1 m/s' }, speed);
    expect(fast.ok && fast.check.value).toBeCloseTo(5.1, 9);
  });

  test.each([
    [{ kind: 'colour' }, 'is no kind of check'],
    [{ kind: 'constructor' }, 'is no kind of check'],
    [{ who: '  ' }, 'Nobody is named'],
    [{ value: '1.3' }, 'unit'],
    [{ value: '1.3 K' }, 'not a unit of voltage'],
    [{ value: '1,3 mV' }, 'Write a decimal point'],
    [{ value: '1300 V' }, 'Write a voltage from'],
    [{ kind: 'supply-pressure', value: '6 bar' }, 'gauge or absolute'],
    [{ kind: 'ice-point', value: '273 degC' }, 'is not possible'],
    [{ kind: 'mass', subject: 'brass-12', bench: null, value: '0 g' }, 'above 0'],
    [{ bench: null }, 'Name one of bench-1, bench-2'],
    [{ bench: 'bench-9' }, 'There is no bench "bench-9"'],
    [{ subject: 'brass-12' }, 'about the bench'],
    [{ kind: 'diameter', value: '12 mm', bench: null }, 'none is named'],
    [{ kind: 'diameter', value: '12 mm', subject: 'brass-12' }, 'goes from bench to bench'],
    [{ kind: 'diameter', value: '12 mm', subject: '__proto__', bench: null }, 'is not one'],
    [{ kind: 'flow', value: '60 L/min', subject: '61' }, 'Name one of 60, 120'],
    [{ at: 'yesterday' }, 'not understood'],
    [{ at: new Date(session + day).toISOString() }, 'in the future'],
    [{ note: 'x'.repeat(501) }, 'too long'],
    [{ value: `1.3 mV${'!'.repeat(5000)}` }, 'too long'],
  ])('is refused with its mend: %j', (asked, words) => {
    expect(refusal(asked)).toContain(words);
  });

  test('may come from a clock that goes a little ahead, or be of yesterday', () => {
    expect(admit({ at: new Date(session + 5 * minute).toISOString() }).ok).toBe(true);
    expect(admit({ at: new Date(session - day).toISOString() }).ok).toBe(true);
  });
});
