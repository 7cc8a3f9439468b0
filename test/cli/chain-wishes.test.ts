import { describe, expect, test } from 'vitest';
import { chainWishes } from '../../src/cli/chain-wishes.ts';
import { experimentOf } from '../experiment/read.ts';

const experiment = experimentOf(
  'sensor: { thermocouple: T, junction: ice, junction-uncertainty: 0.05 K, gain: 200, gain-uncertainty: 0.1 %, zero: 1.3 mV +- 20 uV }',
);

describe('the sensor chain of an experiment file', () => {
  test('reaches the analysis with its uncertainties', () => {
    expect(chainWishes({}, experiment)).toMatchObject({
      junction: { kind: 'ice' },
      junctionUncertainty: 0.05,
      gain: 200,
      gainUncertainty: 0.001,
      zero: expect.closeTo(0.0013, 12),
      zeroUncertainty: expect.closeTo(2e-5, 12),
    });
  });

  test('gives way to options, which take its uncertainties with them', () => {
    const wishes = chainWishes({ junction: '22 degC', gain: '100', zero: '0 V' }, experiment);
    expect(wishes).toMatchObject({
      junctionUncertainty: null,
      gain: 100,
      gainUncertainty: null,
      zero: 0,
      zeroUncertainty: null,
    });
  });

  test('has none of them without a file', () => {
    expect(chainWishes({ thermocouple: 'K' }, null)).toMatchObject({
      junctionUncertainty: null,
      zeroUncertainty: null,
    });
  });
});
