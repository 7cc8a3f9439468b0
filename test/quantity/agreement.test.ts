import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  agreement,
  logAgreement,
  normalisedError,
  zetaScore,
  zPrimeScore,
  zScore,
} from '../../src/quantity/index.ts';
import { table } from '../reference/tables.ts';

/** Coverage of the usual expanded uncertainties with k = 2. */
const two = 0.954499736103642;

describe('scores', () => {
  it('are those of ISO 13528:2022, E.4', () => {
    const rows = table('iso13528-e4.csv');
    expect(rows.length).toBe(21);
    for (const row of rows) {
      const [x, expanded, k] = [row.number('x'), row.number('U'), row.number('k')];
      const found = {
        z: zScore(x, 0.044, 0.0066),
        z_prime: zPrimeScore(x, 0.044, 0.0066, 0.0041),
        zeta: zetaScore(x, expanded / k, 0.044, 0.0041),
        En: normalisedError(x, expanded, 0.044, 0.0082),
      };
      for (const [name, score] of Object.entries(found)) {
        // Recomputed to five decimals from the printed inputs.
        expect(score, `${row.text('lab')} ${name}`).toBeCloseTo(row.number(`${name}_recomputed`), 4);
        // Printed to two decimals.
        expect(Math.abs(score - row.number(name)), `${row.text('lab')} ${name}`).toBeLessThan(0.00501);
      }
    }
  });

  // ISO/IEC 17043:2010, B.3 and B.4 (formulas from memory), worked with exact fractions.
  it.each([
    [10.3, 10, 0.4, 0.2, 0.15, 0.6708203932, 1.341640786, 2, 1.664100589],
    [25.9, 25, 0.5, 0.3, 0.4, 1.543487266, 3.086974533, 2.25, 2.10674065],
    [47.1, 48, 1.2, 0.6, 0.5, -0.6708203932, -1.341640786, -1.8, -1.543487266],
  ])('of %d against %d', (x, assigned, expanded, assignedExpanded, fitSpread, en, zeta, z, zPrime) => {
    expect(normalisedError(x, expanded, assigned, assignedExpanded)).toBeCloseTo(en, 8);
    expect(zetaScore(x, expanded / 2, assigned, assignedExpanded / 2)).toBeCloseTo(zeta, 8);
    expect(zScore(x, assigned, fitSpread)).toBeCloseTo(z, 8);
    expect(zPrimeScore(x, assigned, fitSpread, assignedExpanded / 2)).toBeCloseTo(zPrime, 8);
    const found = agreement(
      { value: x, standardUncertainty: expanded / 2 },
      { value: assigned, standardUncertainty: assignedExpanded / 2 },
      { coverage: two },
    );
    expect(found.normalisedError).toBeCloseTo(en, 8);
    expect(found.difference).toBeCloseTo(x - assigned, 12);
  });

  it('of equal values known exactly are 0, of different ones infinite', () => {
    expect(normalisedError(3, 0, 3, 0)).toBe(0);
    expect(normalisedError(4, 0, 3, 0)).toBe(Number.POSITIVE_INFINITY);
    expect(normalisedError(3, Number.NaN, 3, 0)).toBeNaN();
  });
});

describe('agreement', () => {
  const names = ['the measured time constant', 'the predicted one'] as const;
  const options = { coverage: two, names, unit: 's' };
  const measured = (value: number, standardUncertainty: number) => ({ value, standardUncertainty });

  it('is too weak to tell where the reference is vague', () => {
    // 20.0 ± 0.8 against 15.4 ± 4.6 (k = 2): En = 4.6/√(0.8² + 4.6²) = 0.985, and ±30 % might have passed.
    const found = agreement(measured(20, 0.4), measured(15.4, 2.3), options);
    expect(found.normalisedError).toBeCloseTo(0.98521, 5);
    expect(found.verdict).toBe('too-weak-to-tell');
    expect(found.smallestSeen.above).toBeCloseTo(Math.hypot(0.8, 4.6) / 15.4, 9);
    expect(found.sentence).toBe(
      'The measured time constant is 30 % larger than the predicted one, within the 30 % that their uncertainties explain (normalised error 0.99), but only a difference beyond 30 % would have shown, where 10 % would matter: the comparison is too weak to tell.',
    );
  });

  it('holds where a difference that matters would have shown', () => {
    const found = agreement(measured(20.4, 0.4), measured(20, 0.3), options);
    // U = √(0.8² + 0.6²) = 1.
    expect(found.expandedUncertainty).toBeCloseTo(1, 9);
    expect(found.normalisedError).toBeCloseTo(0.4, 9);
    expect(found.verdict).toBe('agree');
    expect(found.sentence).toBe(
      'The measured time constant is 2.0 % larger than the predicted one, within the 5.0 % that their uncertainties explain (normalised error 0.40), and a difference of 10 % would have shown.',
    );
    expect(agreement(measured(20.4, 0.4), measured(20, 0.3), { ...options, practical: 0.04 }).verdict).toBe(
      'too-weak-to-tell',
    );
  });

  it('fails where the uncertainties do not explain the difference', () => {
    const found = agreement(measured(18, 0.4), measured(20, 0.3), options);
    expect(found.normalisedError).toBeCloseTo(-2, 9);
    expect(found.verdict).toBe('disagree');
    expect(found.sentence).toBe(
      'The measured time constant is 10 % smaller than the predicted one, more than the 5.0 % that their uncertainties explain (normalised error -2.0).',
    );
  });

  it('takes few degrees of freedom into account', () => {
    // Student's t for 95 %: 2.776445 with 4 degrees of freedom, 1.959964 with many (JCGM 100:2008, Table G.2).
    const found = agreement(
      { value: 10, standardUncertainty: 0.3, degreesOfFreedom: 4 },
      { value: 10, standardUncertainty: 0.4 },
    );
    expect(found.expandedUncertainty).toBeCloseTo(Math.hypot(2.776445 * 0.3, 1.959964 * 0.4), 5);
    expect(found.sentence).toMatch(/^The value equals the reference, within the 11 % .* too weak to tell\.$/);
  });

  it('speaks in the unit where the reference is not above 0', () => {
    const found = agreement(measured(0.5, 0.1), measured(0, 0), { coverage: two, unit: 'K' });
    expect(found.verdict).toBe('disagree');
    expect(found.sentence).toBe(
      'The value is 0.50 K above the reference, more than the 0.20 K that their uncertainties explain (normalised error 2.5).',
    );
    expect(agreement(measured(-9, 0.1), measured(-10, 0.1)).sentence).toMatch(/is 1\.0 above the reference/);
    expect(agreement(measured(0, 0), measured(0, 0)).verdict).toBe('agree');
  });

  it('cannot be told where something is not known', () => {
    for (const bad of [
      measured(Number.NaN, 1),
      measured(Number.POSITIVE_INFINITY, 1),
      measured(1, Number.NaN),
      measured(1, -1),
      measured(1, Number.POSITIVE_INFINITY),
    ]) {
      const found = agreement(bad, measured(1, 0.01));
      expect(found.verdict).toBe('too-weak-to-tell');
      expect(found.sentence).toBe(
        'The value and the reference cannot be compared: both need a known value and a known uncertainty.',
      );
    }
    const negative = logAgreement(
      { value: -1, logStandardUncertainty: 0.1 },
      { value: 1, logStandardUncertainty: 0.1 },
    );
    expect(negative.verdict).toBe('too-weak-to-tell');
    expect(negative.sentence).toMatch(/both need a known value above 0 and a known uncertainty/);
  });

  it('refuses options that cannot be used', () => {
    expect(() => agreement(measured(1, 1), measured(1, 1), { practical: 0 })).toThrow(
      /The difference that matters is 0/,
    );
    expect(() => agreement(measured(1, 1), measured(1, 1), { coverage: 1 })).toThrow(/The coverage is 1/);
  });
});

describe('agreement in the logarithm', () => {
  it('turns ±30 % of a divisor into -23 % and +43 %', () => {
    // tau = C/h: h within a factor 1/0.7 upwards of tau. ln(1/0.7) is the expanded uncertainty; exp(U) - 1 = 0.4286.
    const found = logAgreement(
      { value: 24, logStandardUncertainty: 0 },
      { value: 20, logStandardUncertainty: Math.log(1 / 0.7) / 2 },
      { coverage: two },
    );
    expect(found.normalisedError).toBeCloseTo(Math.log(1.2) / Math.log(1 / 0.7), 8);
    expect(found.smallestSeen.above).toBeCloseTo(1 / 0.7 - 1, 8);
    expect(found.smallestSeen.below).toBeCloseTo(0.3, 8);
    expect(found.ratioInterval[0]).toBeCloseTo(1.2 * 0.7, 8);
    expect(found.ratioInterval[1]).toBeCloseTo(1.2 / 0.7, 8);
    expect(found.sentence).toBe(
      'The value is 20 % larger than the reference, within the 43 % that their uncertainties explain (normalised error 0.51), but only a difference beyond -30 % or +43 % would have shown, where 10 % would matter: the comparison is too weak to tell.',
    );
  });

  it('is weak by the larger of the two differences', () => {
    // exp(0.1) - 1 = 10.5 %, 1 - exp(-0.1) = 9.5 %.
    const found = logAgreement(
      { value: 1, logStandardUncertainty: 0.05 },
      { value: 1, logStandardUncertainty: 0 },
      { coverage: two },
    );
    expect(found.smallestSeen.above).toBeCloseTo(0.10517, 5);
    expect(found.smallestSeen.below).toBeCloseTo(0.09516, 5);
    expect(found.verdict).toBe('too-weak-to-tell');
  });

  it('does not depend on which of the two is the reference', () => {
    const positive = fc.double({ min: 0.1, max: 1000, noNaN: true });
    const spread = fc.double({ min: 1e-4, max: 1, noNaN: true });
    fc.assert(
      fc.property(positive, spread, positive, spread, (a, ua, b, ub) => {
        const x = { value: a, logStandardUncertainty: ua };
        const y = { value: b, logStandardUncertainty: ub };
        const forth = logAgreement(x, y);
        const back = logAgreement(y, x);
        expect(forth.normalisedError).toBeCloseTo(-back.normalisedError, 9);
        expect(forth.verdict).toBe(back.verdict);
        expect(forth.ratioInterval[0] * back.ratioInterval[1]).toBeCloseTo(1, 9);
      }),
      { seed: 21 },
    );
  });

  it('is plain agreement where the uncertainties are small', () => {
    const plain = agreement(
      { value: 10.02, standardUncertainty: 0.01002 },
      { value: 10, standardUncertainty: 0.02 },
    );
    const log = logAgreement(
      { value: 10.02, logStandardUncertainty: 0.001 },
      { value: 10, logStandardUncertainty: 0.002 },
    );
    expect(log.normalisedError / plain.normalisedError).toBeCloseTo(1, 2);
    expect(log.smallestSeen.above / plain.smallestSeen.above).toBeCloseTo(1, 2);
    expect(log.ratioInterval[0]).toBeCloseTo(plain.ratioInterval[0], 4);
  });
});

describe('the verdict', () => {
  const thousandths = (min: number, max: number) =>
    fc.integer({ min: 1000 * min, max: 1000 * max }).map((n) => n / 1000);
  const value = thousandths(-100, 100);
  const u = thousandths(0, 20);
  const factor = fc.double({ min: 0.01, max: 100, noNaN: true });

  it('follows the normalised error and the interval of the ratio', () => {
    fc.assert(
      fc.property(value, u, value, u, (a, ua, b, ub) => {
        const found = agreement({ value: a, standardUncertainty: ua }, { value: b, standardUncertainty: ub });
        const en = Math.abs(found.normalisedError);
        fc.pre(Math.abs(en - 1) > 1e-6 && b !== 0 && ua + ub > 0);
        expect(found.verdict === 'disagree').toBe(en > 1);
        const [low, high] = found.ratioInterval;
        if (Number.isFinite(low)) expect(low <= 1 && high >= 1).toBe(en < 1);
        else expect(1.959964 * ub).toBeGreaterThanOrEqual(Math.abs(b) * (1 - 1e-6));
      }),
      { seed: 22, numRuns: 500 },
    );
  });

  it('does not depend on the unit', () => {
    fc.assert(
      fc.property(value, u, value, u, factor, (a, ua, b, ub, scale) => {
        const plain = agreement({ value: a, standardUncertainty: ua }, { value: b, standardUncertainty: ub });
        const scaled = agreement(
          { value: scale * a, standardUncertainty: scale * ua },
          { value: scale * b, standardUncertainty: scale * ub },
        );
        fc.pre(ua + ub > 0);
        fc.pre(Math.abs(Math.abs(plain.normalisedError) - 1) > 1e-9);
        fc.pre(Math.abs(plain.smallestSeen.above - 0.1) > 1e-9);
        expect(scaled.verdict).toBe(plain.verdict);
        expect(scaled.normalisedError).toBeCloseTo(plain.normalisedError, 6);
      }),
      { seed: 23 },
    );
  });

  it('would have been disagreement at the smallest difference that shows', () => {
    fc.assert(
      fc.property(factor, u, u, (b, ua, ub) => {
        fc.pre(ua + ub > 0);
        const at = (a: number) =>
          agreement({ value: a, standardUncertainty: ua }, { value: b, standardUncertainty: ub });
        const reach = at(b).smallestSeen.above;
        expect(at(b * (1 + 1.001 * reach)).verdict).toBe('disagree');
        expect(at(b * (1 + 0.999 * reach)).verdict).not.toBe('disagree');
      }),
      { seed: 24 },
    );
  });
});
