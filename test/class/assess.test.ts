import { describe, expect, test } from 'vitest';
import {
  type AssessedValue,
  type Assessment,
  assessSubmission,
  type PredictedFacts,
  partOf,
  quantityWords,
  type Submission,
  type SubmittedValue,
  type Tolerance,
  type Tolerances,
  usualTolerances,
} from '../../src/class/index.ts';
import { submittedQuantities } from '../../src/experiment/index.ts';
import { thornwickCondition } from './condition.ts';

const brass = thornwickCondition('brass-12', '120');
const right = rightValues(brass);

/** What the program itself predicts, as a group would hand it in. */
function rightValues({ prediction }: PredictedFacts): Record<string, number> {
  const { reynolds, nusselt, heatTransferCoefficient, biot, timeConstant } = prediction;
  return {
    reynolds,
    nusselt,
    'heat-transfer-coefficient': heatTransferCoefficient.total,
    predicted: timeConstant.value,
    biot: biot.volumeToArea,
    'predicted-standard-uncertainty': timeConstant.standardUncertainty,
    'predicted-expanded-uncertainty': 2 * timeConstant.standardUncertainty,
  };
}

function handedIn(values: Readonly<Record<string, number>>): SubmittedValue[] {
  return submittedQuantities.flatMap((quantity) => {
    const value = values[quantity];
    if (value === undefined) return [];
    const digits = Math.floor(Math.log10(Math.abs(value))) - 2;
    return [{ quantity, value: Number(value.toPrecision(3)), rounding: 0.5 * 10 ** digits }];
  });
}

function assess(values: Readonly<Record<string, number>>, tolerances: Tolerances = {}): Assessment {
  return assessSubmission({ measured: null, predicted: brass }, handedIn(values), tolerances);
}

describe('submitted values beside those of the condition', () => {
  test('are within where they are right, and then nothing is searched for', () => {
    const { values, explanations, sentences } = assess(right);
    expect(new Set(values.map(({ state }) => state))).toEqual(new Set(['within']));
    expect(explanations).toEqual([]);
    expect(sentences).toEqual([]);
  });

  test('stand in the order in which they are worked, whatever order they came in', () => {
    const submission: Submission = {
      group: 'A1',
      recording: null,
      body: 'brass-12',
      flow: '120',
      values: handedIn(right).reverse(),
    };
    const { values } = assessSubmission({ measured: null, predicted: brass }, submission.values);
    const given = values.map(({ quantity }) => quantity);
    expect(given).toEqual(submittedQuantities.filter((quantity) => given.includes(quantity)));
    expect(given.every((quantity) => partOf(quantity) === 'predicted')).toBe(true);
  });

  test('are explained by a slip that gives them', () => {
    // Flow per minute for flow per second: speed and Reynolds number are 60 times too large.
    const reynolds = 60 * (right['reynolds'] ?? 0);
    const { values, explanations } = assess({ reynolds });
    expect(values[0]).toMatchObject({ state: 'outside', slips: ['minute-for-second'] });
    expect(explanations[0]?.codes).toEqual(['minute-for-second']);
  });

  test('cannot be told without a prediction', () => {
    const { values } = assessSubmission({ measured: null, predicted: null }, handedIn(right));
    expect(values.every(({ state, expected }) => state === 'cannot-tell' && expected === null)).toBe(true);
  });

  test('have words and a tolerance for every quantity', () => {
    for (const quantity of submittedQuantities) {
      expect(quantityWords[quantity]).toMatch(/^[A-Z]?[a-z]/);
      expect(usualTolerances[quantity].kind).toBe('percent');
    }
  });
});

describe('a tolerance', () => {
  const expected = assess(right).values.find(({ quantity }) => quantity === 'reynolds')?.expected ?? 0;
  const held = (value: number, tolerance: Tolerance): AssessedValue | undefined => {
    return assess({ reynolds: value }, { reynolds: tolerance }).values[0];
  };

  // 20 beside 15.4 is 30, 23 or 26 % (by hand).
  test.each([
    ['expected', 100 * (20 / 15.4 - 1)],
    ['submitted', 100 * (1 - 15.4 / 20)],
    ['mean', (100 * (20 - 15.4)) / 17.7],
  ] as const)('counts in percent of the %s value', (of, percent) => {
    const value = (expected * 20) / 15.4;
    expect(held(value, { kind: 'percent', percent: 90, of })?.percent).toBeCloseTo(percent, 0);
    expect(held(value, { kind: 'percent', percent: percent + 0.5, of })?.state).toBe('within');
    expect(held(value, { kind: 'percent', percent: percent - 0.5, of })?.state).toBe('outside');
  });

  test('counts in uncertainties where there is one, and else cannot tell', () => {
    const uncertainties: Tolerance = { kind: 'uncertainties', factor: 2 };
    expect(held(expected, uncertainties)?.state).toBe('cannot-tell');
    const of = (value: number) => assess({ predicted: value }, { predicted: uncertainties }).values[0];
    const { standardUncertainty } = brass.prediction.timeConstant;
    // The right way that is next to it may itself lie a few percent up.
    const far = of((right['predicted'] ?? 0) + 2.8 * standardUncertainty);
    expect(far?.inUncertainties).toBeGreaterThan(2);
    expect(far?.state).toBe('outside');
    expect(of((right['predicted'] ?? 0) + 1.5 * standardUncertainty)?.state).toBe('within');
  });

  test('leaves room for the rounding', () => {
    const tight: Tolerances = { reynolds: { kind: 'percent', percent: 0.1, of: 'expected' } };
    const facts = { measured: null, predicted: brass };
    const state = (rounding: number) => {
      const values = [{ quantity: 'reynolds', value: 1.004 * expected, rounding }] as const;
      return assessSubmission(facts, values, tight).values[0]?.state;
    };
    expect(state(0.005 * expected)).toBe('within');
    expect(state(0.001 * expected)).toBe('outside');
  });
});

describe('a slip counts once', () => {
  const off = (values: Readonly<Record<string, number>>) => {
    const { values: held, ...rest } = assess({ ...right, ...values });
    return { ...rest, states: Object.fromEntries(held.map(({ quantity, state }) => [quantity, state])) };
  };
  /** The chain after the Reynolds number by Whitaker (1972), written down here once more. */
  const whitaker = (reynolds: number) => {
    const { prandtl, viscosityRatio, air, heatTransferCoefficient: h, timeConstant } = brass.prediction;
    const { diameter } = brass.input.body;
    const nusselt =
      2 + (0.4 * reynolds ** 0.5 + 0.06 * reynolds ** (2 / 3)) * prandtl ** 0.4 * viscosityRatio ** 0.25;
    const coefficient = (nusselt * air.conductivity) / diameter;
    const predicted = (timeConstant.value * h.total) / coefficient;
    const biot = ((right['biot'] ?? 0) * coefficient) / h.total;
    return { reynolds, nusselt, 'heat-transfer-coefficient': coefficient, predicted, biot };
  };
  const follow = {
    nusselt: 'follows',
    'heat-transfer-coefficient': 'follows',
    predicted: 'follows',
    biot: 'follows',
  };

  test('where it is known: what comes after it follows', () => {
    const { states, explanations } = off(whitaker((right['reynolds'] ?? 0) / 2));
    expect(explanations[0]?.codes).toEqual(['radius-in-reynolds']);
    expect(states).toMatchObject({ reynolds: 'outside', ...follow });
  });

  test('where nobody knows it: what is right from the own value follows', () => {
    const { states, sentences } = off(whitaker((right['reynolds'] ?? 0) * 1.45));
    expect(states).toMatchObject({ reynolds: 'outside', ...follow });
    expect(sentences[0]).toContain('No slip that is known gives the Reynolds number');
    expect(sentences[0]).toContain('right given it');
  });

  test('and a second one counts beside it', () => {
    const chain = whitaker((right['reynolds'] ?? 0) / 2);
    const { states, explanations } = off({ ...chain, biot: 6 * chain.biot });
    expect(explanations[0]?.codes).toEqual(['radius-in-reynolds', 'biot-with-diameter']);
    expect(states).toMatchObject({ ...follow, reynolds: 'outside', biot: 'outside' });
  });
});
