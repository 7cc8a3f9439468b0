import { describe, expect, it } from 'vitest';
import { type DecayFit, fitDecay, slowMisfitLimit } from '../../src/decay/index.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { type Simulated, scenario, simulate } from './simulated.ts';

const calm = { ...scenario, correlated: [[0.05, 0.5]] as const };

function fitted(input: Simulated, slowMisfit: 'gated' | 'always' | 'never' = 'gated'): DecayFit {
  const fit = fitDecay({ ...input, slowMisfit });
  if (fit.kind === 'failed') throw new Error(fit.message);
  return fit;
}

/** The logarithm of the error fraction wanders: the heat transfer fluctuates quickly by a part of itself. */
function wandering(seed: number, strength: number): Simulated {
  const input = simulate(calm, seed, 200);
  const random = seededRandom(seed + 77);
  let walk = 0;
  const step = strength * Math.sqrt(input.blockWidth / 40);
  const value = input.value.map((v, i) => {
    walk += step * random.normal();
    const excess = 90 * Math.exp(-((input.time[i] ?? 0) - input.heatOff) / 40);
    return v + excess * Math.expm1(walk);
  });
  return { ...input, value };
}

describe('the term for a slow misfit', () => {
  const seeds = Array.from({ length: 60 }, (_, i) => 50 + i);

  it('is added to about a quarter of good recordings, as its limit says', () => {
    // 7.84 is the upper 25 % point of chi-square with 6 degrees of freedom (Abramowitz & Stegun, table 26.8).
    expect(slowMisfitLimit).toBe(7.84);
    const added = seeds.filter((seed) => fitted(simulate(calm, seed, 200)).slowMisfit?.added).length;
    expect(added / seeds.length).toBeGreaterThan(0.1);
    expect(added / seeds.length).toBeLessThan(0.4);
  });

  it('is told when it is added, and is in the contributions only then', () => {
    for (const seed of seeds.slice(0, 40)) {
      const fit = fitted(simulate(calm, seed, 200));
      const slow = fit.slowMisfit;
      expect(slow?.added).toBe((slow?.chiSquare ?? 0) > slowMisfitLimit);
      expect(fit.contributions.slowMisfit).toBe(slow?.added ? slow.contribution : 0);
      expect(fitted(simulate(calm, seed, 200), 'never').contributions.slowMisfit).toBe(0);
    }
  });

  it('raises the coverage where the cooling rate wanders', () => {
    const covered = (rule: 'gated' | 'never') =>
      seeds.filter((seed) => {
        const [low, high] = fitted(wandering(seed, 0.01), rule).interval;
        return low <= 40 && 40 <= high;
      }).length / seeds.length;
    const without = covered('never');
    const withTerm = covered('gated');
    expect(without).toBeLessThan(0.85);
    expect(withTerm).toBeGreaterThan(without + 0.08);
  });

  it('is left out, and said to be, where there are too few blocks', () => {
    const input = simulate(calm, 3, 300);
    const keep = (_: number, i: number) => i % 20 === 0;
    const fit = fitDecay({ ...input, time: input.time.filter(keep), value: input.value.filter(keep) });
    expect(fit).toMatchObject({ kind: 'fit', slowMisfit: null });
  });
});
