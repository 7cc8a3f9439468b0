import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Break, breakFits } from '../../src/decay/segment-break.ts';
import type { RoughDecay } from '../../src/decay/segment-exponential.ts';
import type { Series } from '../../src/decay/segment-series.ts';
import { seededRandom } from '../../src/practice/random.ts';

const timeConstant = 12;
const ambient = 21;
const decay: RoughDecay = { timeConstant, ambient, excess: 50, origin: 0, scatter: 0.01 };

/** A body that is heated by 2 K/s until 9 s, and cools with a hot stream that dies within 3 s; a gap from 6 to 7 s. */
function points(seed: number): Series {
  const random = seededRandom(seed);
  const all = Array.from({ length: 300 }, (_, i) => 0.1 * i + 1e-3 * random.uniform());
  const time = Float64Array.from(all.filter((t) => t < 6 || t > 7));
  const value = time.map((t) => {
    const u = t - 9;
    const added = u < 0 ? 0 : (3 / (timeConstant - 3)) * (Math.exp(-u / timeConstant) - Math.exp(-u / 3));
    const excess = u < 0 ? 40 + 2 * u : (40 + 10 * added) * Math.exp(-u / timeConstant);
    return ambient + excess + 0.02 * random.normal();
  });
  return { length: time.length, width: 0.1, time, value };
}

/** The two columns of a break at one time, as its definition says: what a unit of the level and of the slope do there. */
function columns(t: number, { time, tail, approach, held }: Break): [level: number, slope: number] {
  const tau = timeConstant;
  const u = t - time;
  if (u < 0) {
    if (approach === 'straight') return [1, Math.min(0, u + held)];
    return [1, Math.max(-3 * tau, tau * (1 - Math.exp(-u / tau)))];
  }
  const added = tail > 0 ? (tail / (tau - tail)) * (Math.exp(-u / tau) - Math.exp(-u / tail)) : 0;
  return [Math.exp(-u / tau) + added, tau * added];
}

/** Least squares by running through all points. */
function directly({ time, value, length }: Series, from: number, tried: Break) {
  const rows = Array.from({ length: length - from }, (_, k) => {
    const [p, m] = columns(time[from + k] ?? Number.NaN, tried);
    return { p, m, y: (value[from + k] ?? Number.NaN) - ambient };
  });
  const sum = (of: (row: (typeof rows)[number]) => number) => rows.reduce((all, row) => all + of(row), 0);
  const pp = sum(({ p }) => p * p);
  const pm = sum(({ p, m }) => p * m);
  const mm = sum(({ m }) => m * m);
  const py = sum(({ p, y }) => p * y);
  const my = sum(({ m, y }) => m * y);
  const determinant = pp * mm - pm * pm;
  const level = (py * mm - pm * my) / determinant;
  const slope = (pp * my - pm * py) / determinant;
  return {
    temperature: ambient + level,
    cost: sum(({ p, m, y }) => (y - level * p - slope * m) ** 2),
    determined: determinant > 1e-6 * pp * mm && (tried.tail === 0 || level + slope * timeConstant > 0),
  };
}

const breaks = fc.record({
  time: fc.double({ min: 1, max: 26, noNaN: true }),
  tail: fc.constantFrom(0, 0.3, 1.2, 3, 7.8, 11.4, 13.5),
  approach: fc.constantFrom('straight', 'exponential'),
  held: fc.double({ min: 0, max: 4, noNaN: true }),
}) satisfies fc.Arbitrary<Break>;

describe('breaks fitted by the sums kept of their points', () => {
  it('are those of a run through the points', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 50 }),
        fc.integer({ min: 0, max: 120 }),
        breaks,
        (seed, from, tried) => {
          const series = points(seed);
          const before = series.time.filter((t, i) => i >= from && t < tried.time).length;
          const direct = directly(series, from, tried);
          fc.pre(before >= 2 && direct.determined);
          const fitted = breakFits(series, decay)(from, tried);
          expect(fitted?.points).toBe(series.length - from);
          expect(fitted?.temperature).toBeCloseTo(direct.temperature, 6);
          expect((fitted?.cost ?? Number.NaN) / direct.cost).toBeCloseTo(1, 6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('stay finite far from the break, however quickly the stream dies', () => {
    const series = points(1);
    const fitted = breakFits(series, decay)(0, { time: 2, tail: 0.004, approach: 'straight', held: 0 });
    const clean = breakFits(series, decay)(0, { time: 2, tail: 0, approach: 'straight', held: 0 });
    expect(fitted?.cost).toBeGreaterThan(0);
    expect((fitted?.cost ?? Number.NaN) / (clean?.cost ?? Number.NaN)).toBeCloseTo(1, 2);
  });

  it('need two points before them and three behind', () => {
    const series = points(1);
    const fitBreak = breakFits(series, decay);
    const at = (time: number) => fitBreak(0, { time, tail: 0, approach: 'straight', held: 0 });
    expect(at(series.time[1] ?? Number.NaN)).toBeNull();
    expect(at(series.time.at(-2) ?? Number.NaN)).toBeNull();
    expect(at(series.time[40] ?? Number.NaN)).not.toBeNull();
  });
});
