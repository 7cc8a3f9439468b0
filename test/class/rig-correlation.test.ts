import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type CorrelationForm,
  correlationWords,
  type NusseltTrial,
  rigCorrelation,
} from '../../src/class/index.ts';
import { seededRandom } from '../../src/practice/random.ts';

const benches = ['bench-1', 'bench-2', 'bench-3', 'bench-4'];
const diameters: Readonly<Record<string, number>> = { 'brass-8': 8, 'brass-12': 12, 'brass-20': 20 };
const flows: Readonly<Record<string, number>> = { 60: 60, 120: 120 };

/** Standard uncertainties of a generated rig. */
const truth = {
  exponent: 0.56,
  /** Nu at Re 5000. */
  level: 45,
  bench: 0.03,
  own: 0.015,
  diameter: 0.004,
  meter: 0.03,
  heat: 0.02,
};

/** Results of a rig whose truth is known: every cause is drawn once, and moves all that it touches. */
function rig(seed: number): NusseltTrial[] {
  const random = seededRandom(seed);
  const draw = (u: number) => u * random.normal();
  const meter = draw(truth.meter);
  const heat = draw(truth.heat);
  const offsets = new Map(benches.map((bench) => [bench, draw(truth.bench)]));
  const sizes = new Map(Object.keys(diameters).map((body) => [body, draw(truth.diameter)]));
  return benches.flatMap((bench) =>
    Object.entries(diameters).flatMap(([body, diameter]) =>
      Object.entries(flows).map(([flow, reading]): NusseltTrial => {
        const re = 5000 * (diameter / 12) * (reading / 120);
        const nu = truth.level * (re / 5000) ** truth.exponent;
        const size = sizes.get(body) ?? 0;
        return {
          bench,
          body,
          flow,
          reynolds: re * Math.exp(meter + size),
          nusselt: nu * Math.exp((offsets.get(bench) ?? 0) + heat + 2 * size + draw(truth.own)),
          own: 0.005,
          effects: [
            { cause: 'meter', reynolds: truth.meter, nusselt: 0 },
            { cause: 'heat', reynolds: 0, nusselt: truth.heat },
            { cause: `diameter of ${body}`, reynolds: truth.diameter, nusselt: 2 * truth.diameter },
          ],
        };
      }),
    ),
  );
}

function fitted(trials: readonly NusseltTrial[], form: CorrelationForm = 'power') {
  const found = rigCorrelation(trials, form);
  if (!found.ok) throw new Error(found.message);
  return found;
}

const plain = (reynolds: number, nusselt: number, bench = 'a'): NusseltTrial => ({
  bench,
  body: `b${reynolds}`,
  flow: '1',
  reynolds,
  nusselt,
  own: 0.01,
  effects: [],
});

describe("a rig's own correlation", () => {
  test('covers the truth as often as it claims, with offsets of benches and shared errors', () => {
    const sets = 200;
    let exponents = 0;
    let levels = 0;
    let widths = 0;
    for (let seed = 1; seed <= sets; seed += 1) {
      const { exponent, nusseltMiddle, reynoldsMiddle } = fitted(rig(seed));
      const nu = truth.level * (reynoldsMiddle / 5000) ** truth.exponent;
      if (exponent.interval[0] <= truth.exponent && truth.exponent <= exponent.interval[1]) exponents += 1;
      if (nusseltMiddle.interval[0] <= nu && nu <= nusseltMiddle.interval[1]) levels += 1;
      widths += nusseltMiddle.standardUncertainty / nusseltMiddle.value / sets;
    }
    // 95 % ± 3 standard deviations of 200 counts is 90.4 % to 99.6 %.
    expect(exponents / sets).toBeGreaterThan(0.904);
    expect(levels / sets).toBeGreaterThan(0.904);
    // Meter 0.56 × 3 %, heat capacity 2 %, a mean of four benches 1.5 %: together 3.0 %.
    expect(widths).toBeGreaterThan(0.025);
    expect(widths).toBeLessThan(0.036);
  });

  test('claims far too little where what trials share is passed over', () => {
    const sets = 60;
    let covered = 0;
    for (let seed = 1; seed <= sets; seed += 1) {
      const { nusseltMiddle, reynoldsMiddle } = fitted(rig(seed).map((one) => ({ ...one, effects: [] })));
      const nu = truth.level * (reynoldsMiddle / 5000) ** truth.exponent;
      if (nusseltMiddle.interval[0] <= nu && nu <= nusseltMiddle.interval[1]) covered += 1;
    }
    expect(covered / sets).toBeLessThan(0.95);
  });

  // Exercise data of textbooks for air over spheres (from memory): Re 10, 100, 1000 and Nu 2.8, 6.3, 19.
  test('comes to the exponents of the textbook exercise', () => {
    const exercise = [
      [10, 2.8],
      [100, 6.3],
      [1000, 19],
    ] as const;
    // The exercise has three points: each is measured on two benches, and a fourth lies on the chord of the last two.
    const trials = [...exercise, [316.2, Math.sqrt(6.3 * 19)] as const].flatMap(([re, nu]) => [
      plain(re, nu, 'a'),
      plain(re, nu, 'b'),
    ]);
    const power = fitted(trials);
    // By hand, all points alike: 4.80111/11.59711.
    expect(power.exponent.value).toBeCloseTo(0.414, 3);
    // By hand, of Nu - 2 through the outer points: ln (17/0.8)/ln 100 = 0.664.
    const above = fitted(trials, 'power-above-2');
    expect(above.exponent.value).toBeCloseTo(0.664, 1);
    expect(above.nusseltMiddle.value).toBeGreaterThan(2);
  });

  test('says nothing outside its range, and less surely at its ends', () => {
    const found = fitted(rig(3));
    const [low, high] = found.range;
    expect(found.at(low * 0.99)).toBeNull();
    expect(found.at(high * 1.01)).toBeNull();
    expect(found.at(Number.NaN)).toBeNull();
    const middle = found.at(found.reynoldsMiddle);
    const end = found.at(high);
    expect(middle?.nusselt).toBeCloseTo(found.nusseltMiddle.value, 9);
    expect(end?.relative ?? 0).toBeGreaterThan(middle?.relative ?? 1);
    expect(middle?.relativeOnBench ?? 0).toBeGreaterThan(middle?.relative ?? 1);
    expect(found.coefficient * found.reynoldsMiddle ** found.exponent.value).toBeCloseTo(
      found.nusseltMiddle.value,
      9,
    );
  });

  test.each<[string, NusseltTrial[], string]>([
    ['nothing', [], 'Results of 0 bodies in 0 flows lie at 0 different Reynolds numbers'],
    [
      'one body in two flows',
      rig(1).filter(({ body }) => body === 'brass-12'),
      'Results of 1 body in 2 flows',
    ],
    ['one body in three flows', [plain(1e3, 20), plain(2e3, 28), plain(4e3, 40)], 'at least 4 are needed'],
    [
      'flows that lie close together',
      [1000, 1100, 1200, 1300, 1400].map((re) => plain(re, Math.sqrt(re))),
      'a factor of 1.4 only',
    ],
    ['four points', [1, 2, 4, 8].map((re) => plain(re * 1000, 20 * Math.sqrt(re))), 'at least 5 are needed'],
    ['still air', [0, 0, 0, 0, 0].map((re) => plain(re, 3)), '0 different Reynolds numbers'],
  ])('is refused for %s', (_, trials, words) => {
    const found = rigCorrelation(trials);
    expect(found.ok ? 'made' : `${found.message} ${found.mend}`).toContain(words);
  });

  test('does not depend on the order of the trials, nor on units of length', () => {
    const trials = rig(5);
    const whole = fitted(trials);
    fc.assert(
      fc.property(fc.shuffledSubarray(trials, { minLength: trials.length }), (shuffled) => {
        const again = fitted(shuffled);
        expect(again.exponent.value).toBeCloseTo(whole.exponent.value, 6);
        expect(again.nusseltMiddle.value).toBeCloseTo(whole.nusseltMiddle.value, 5);
      }),
      { numRuns: 5 },
    );
    const scaled = fitted(trials.map((one) => ({ ...one, reynolds: one.reynolds * 1000 })));
    expect(scaled.exponent.value).toBeCloseTo(whole.exponent.value, 6);
    expect(scaled.exponent.standardUncertainty).toBeCloseTo(whole.exponent.standardUncertainty, 6);
  });

  test('leaves out a result of another body, names it, and none of a sound rig', () => {
    const trials = rig(12);
    const whole = fitted(trials);
    expect(whole.strays).toEqual([]);
    const swapped = trials.map((one, i) => (i === 7 ? { ...one, nusselt: 0.72 * one.nusselt } : one));
    const found = fitted(swapped);
    const { bench, body, flow } = swapped[7] ?? { bench: null, body: '', flow: '' };
    expect(found.strays).toMatchObject([{ bench, body, flow }]);
    expect(found.exponent.value).toBeCloseTo(whole.exponent.value, 1);
    expect(found.deviation).toBeLessThan(0.03);
    expect(correlationWords(found, null).join(' ')).toContain(
      `look at it again: ${bench}, ${body} in ${flow}`,
    );
    let strays = 0;
    for (let seed = 1; seed <= 40; seed += 1) strays += fitted(rig(seed)).strays.length;
    // Beyond 3.3 standard deviations lies 1 of 1000; of 40 rigs with 24 results each, one.
    expect(strays).toBeLessThan(6);
  });

  test('counts benches, not repeats, for what benches differ by', () => {
    const once = fitted(rig(9));
    const often = fitted([...rig(9), ...rig(9), ...rig(9)]);
    expect(often.trials).toBe(3 * once.trials);
    expect(often.cells).toHaveLength(once.cells.length);
    expect(often.nusseltMiddle.standardUncertainty).toBeGreaterThan(
      0.95 * once.nusseltMiddle.standardUncertainty,
    );
  });
});
