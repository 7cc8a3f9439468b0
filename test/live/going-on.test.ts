import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { designUncertainty } from '../../src/experiment/index.ts';
import { type GoingOnFacts, worthOfGoingOn } from '../../src/live/going-on.ts';

/** A brass sphere in a turbulent jet, its trial as it stands at an error fraction of 0.3. */
const sphere: GoingOnFacts = {
  timeConstant: 20,
  step: 75,
  errorFraction: 0.3,
  noise: { variance: 0.3 ** 2, correlationTime: 0.5, blockWidth: 0.1 },
  ambientOffset: 0.3,
  drift: 0,
  baseline: 15,
  heating: 30,
  spent: 69,
};

/** 1/u² of ln tau of a cooling down to an error fraction. */
function information(facts: GoingOnFacts, to: number): number {
  const { variance, correlationTime, blockWidth } = facts.noise;
  const correlated = correlationTime > 0;
  const { relative } = designUncertainty({
    timeConstant: facts.timeConstant,
    step: Math.abs(facts.step),
    from: 0.9,
    to,
    rate: 1 / blockWidth,
    noise: {
      white: correlated ? 0 : Math.sqrt(variance),
      correlated: correlated ? Math.sqrt(variance) : 0,
      correlationTime,
    },
    resolution: 0,
    ambientOffset: facts.ambientOffset,
    drift: facts.drift,
    baseline: facts.baseline,
    heating: facts.heating,
    timeBase: 0,
    nonlinearity: 0,
  });
  return relative ** -2;
}

/** Sensible facts of a trial, beads to large spheres, quiet to rough. */
const anyFacts: fc.Arbitrary<GoingOnFacts> = fc.record({
  timeConstant: fc.double({ min: 0.3, max: 200, noNaN: true }),
  step: fc.oneof(
    fc.double({ min: 10, max: 150, noNaN: true }),
    fc.double({ min: -150, max: -10, noNaN: true }),
  ),
  errorFraction: fc.double({ min: 0.02, max: 0.7, noNaN: true }),
  noise: fc.record({
    variance: fc.double({ min: 1e-3, max: 1, noNaN: true }),
    correlationTime: fc.oneof(fc.constant(0), fc.double({ min: 0.05, max: 2, noNaN: true })),
    blockWidth: fc.double({ min: 0.01, max: 0.2, noNaN: true }),
  }),
  ambientOffset: fc.constantFrom(0.1, 0.3, 1, Number.POSITIVE_INFINITY),
  drift: fc.constantFrom(0, 1e-3),
  baseline: fc.double({ min: 0, max: 30, noNaN: true }),
  heating: fc.double({ min: 5, max: 300, noNaN: true }),
  spent: fc.double({ min: 10, max: 1000, noNaN: true }),
});

describe('what going on is worth', () => {
  test('is in proportion to the time that a repeat would take', () => {
    fc.assert(
      fc.property(anyFacts, fc.double({ min: 1.01, max: 10, noNaN: true }), (facts, factor) => {
        const once = worthOfGoingOn(facts);
        const more = worthOfGoingOn({ ...facts, spent: factor * facts.spent });
        expect(more / (factor * once)).toBeCloseTo(1, 9);
        expect(once).toBeGreaterThan(0);
        expect(more).toBeGreaterThan(once);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  test('comes to nothing in the end', () => {
    for (const correlationTime of [0, 0.5]) {
      const noise = { ...sphere.noise, correlationTime };
      const late = [1e-3, 1e-4, 1e-6, 1e-9, 1e-15].map((errorFraction) =>
        worthOfGoingOn({ ...sphere, noise, errorFraction }),
      );
      expect(late).toEqual([...late].sort((a, b) => b - a));
      expect(late.at(-1)).toBeLessThan(0.1);
    }
  });

  test('does not ask whether the body was hotter or colder than the air', () => {
    expect(worthOfGoingOn({ ...sphere, step: -sphere.step })).toBe(worthOfGoingOn(sphere));
  });

  test('is no less than that of any short time spent on either, by the information that each brings', () => {
    const ahead = fc.constantFrom(0.1, 0.5, 1, 2);
    fc.assert(
      fc.property(anyFacts, ahead, (facts, tau) => {
        const now = information(facts, facts.errorFraction);
        const going = information(facts, facts.errorFraction * Math.exp(-tau)) - now;
        // A repeat of the same length brings as much again, and a part of its time a part of that.
        const repeating = (now * tau * facts.timeConstant) / facts.spent;
        expect(worthOfGoingOn(facts) / (going / repeating)).toBeGreaterThan(1 - 1e-6);
      }),
      { seed: 4, numRuns: 60 },
    );
  });

  // Quiet and rough air, an ambient that is known well, little and not at all, short and long ways to the heat-off.
  test.each([
    [0.5, 0.01, 45],
    [0.5, 0.1, 45],
    [0.5, 0.1, 400],
    [0.5, 0.3, 45],
    [0, 0.3, 45],
    [0.5, Number.POSITIVE_INFINITY, 45],
  ])(
    'is above 1 where a longer trial makes an afternoon say more: correlation %d s, ambient %d K, %d s before',
    (correlationTime, ambientOffset, before) => {
      const base = { ...sphere, ambientOffset, noise: { ...sphere.noise, correlationTime } };
      const spentAt = (length: number) => before + base.timeConstant * length;
      // Trials of two hours that each end after so many time constants: 1/u² of their mean.
      const afternoons = Array.from({ length: 240 }, (_, i) => {
        const length = 0.2 + 0.05 * i;
        return { length, says: (7200 / spentAt(length)) * information(base, Math.exp(-length)) };
      });
      for (const [i, { length, says }] of afternoons.slice(0, 160).entries()) {
        const worth = worthOfGoingOn({ ...base, errorFraction: Math.exp(-length), spent: spentAt(length) });
        // As far ahead as four time constants.
        const best = Math.max(...afternoons.slice(i + 1, i + 81).map((later) => later.says));
        if (worth > 1) expect(best, `after ${length}`).toBeGreaterThan(says);
        // Between the lengths that are tried a little may be missed.
        else expect(best, `after ${length}`).toBeLessThan(1.02 * says);
        if (i === 0) expect(worth).toBeGreaterThan(1);
      }
    },
  );
});

describe('where it cannot be said', () => {
  test.each([
    ['before the fit begins', { errorFraction: 0.9 }],
    ['without an error fraction', { errorFraction: Number.NaN }],
    ['below the ambient', { errorFraction: 0 }],
    ['without a time constant', { timeConstant: Number.NaN }],
    ['with none that can be', { timeConstant: 0 }],
    ['without a step', { step: 0 }],
    ['without blocks', { noise: { ...sphere.noise, blockWidth: 0 } }],
    ['with a noise that is none', { noise: { ...sphere.noise, variance: Number.NaN } }],
  ] as const)('%s it is no number', (_, changes) => {
    expect(worthOfGoingOn({ ...sphere, ...changes })).toBeNaN();
  });
});
