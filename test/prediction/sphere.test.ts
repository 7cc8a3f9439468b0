import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  biotDiameter,
  biotVolumeToArea,
  exactOverLumped,
  sphereEigenvalue,
  sphereTemperatures,
} from '../../src/prediction/sphere.ts';
import { column, table } from '../reference/tables.ts';

describe('roots of 1 - zeta cot zeta = Bi', () => {
  test('the first, and the time constant that follows from it', () => {
    for (const row of table('sphere-first-root.csv')) {
      const biot = row.number('biot');
      const zeta = sphereEigenvalue(biot);
      expect(Math.abs(zeta / row.number('zeta') - 1)).toBeLessThan(1e-13);
      expect(Math.abs(exactOverLumped(biot) / row.number('exactOverLumped') - 1)).toBeLessThan(1e-12);
      if (row.text('printedZeta') !== '') {
        // Four decimals are printed.
        expect(Math.abs(zeta - row.number('printedZeta'))).toBeLessThan(6e-5);
      }
    }
    expect(column('sphere-first-root.csv', 'printedZeta').filter(Number.isFinite)).toHaveLength(29);
  });

  test('the first six', () => {
    for (const row of table('sphere-higher-roots.csv')) {
      for (let n = 1; n <= 6; n += 1) {
        const zeta = sphereEigenvalue(row.number('biot'), n);
        expect(Math.abs(zeta - row.number(`zeta${n}`))).toBeLessThan(1e-12);
      }
    }
  });

  test('each root is one, in its own interval, for any Biot number', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -18, max: 18, noNaN: true }).map(Math.exp),
        fc.integer({ min: 1, max: 40 }),
        (biot, n) => {
          const zeta = sphereEigenvalue(biot, n);
          expect(zeta).toBeGreaterThan((n - 1) * Math.PI);
          expect(zeta).toBeLessThanOrEqual(n * Math.PI);
          const left = zeta * Math.cos(zeta) + (biot - 1) * Math.sin(zeta);
          expect(Math.abs(left)).toBeLessThan(1e-14 * (1 + biot) * (1 + zeta) * 10);
        },
      ),
      { seed: 33, numRuns: 500 },
    );
  });

  test('no root without a Biot number', () => {
    for (const biot of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(sphereEigenvalue(biot)).toBeNaN();
    }
  });
});

describe('exact over lumped time constant', () => {
  test('goes to 1 with the Biot number, as 1 + Bi/5', () => {
    expect(exactOverLumped(0)).toBe(1);
    expect((exactOverLumped(1e-4) - 1) / 1e-4).toBeCloseTo(0.2, 5);
    expect(exactOverLumped(-1)).toBeNaN();
  });

  test('series and root meet where one takes over from the other', () => {
    expect(Math.abs(exactOverLumped(0.1 + 1e-12) / exactOverLumped(0.1) - 1)).toBeLessThan(1e-12);
    expect(Math.abs(sphereEigenvalue(0.1 + 1e-14) / sphereEigenvalue(0.1) - 1)).toBeLessThan(1e-12);
  });

  test('grows with the Biot number', () => {
    const biot = fc.double({ min: 0, max: 100, noNaN: true });
    fc.assert(
      fc.property(biot, biot, (a, b) => {
        if (Math.abs(a - b) < 1e-9) return;
        expect(exactOverLumped(Math.max(a, b))).toBeGreaterThan(exactOverLumped(Math.min(a, b)));
      }),
      { seed: 34 },
    );
  });
});

describe('temperatures in a cooling sphere', () => {
  test('by the series, as computed apart from this', () => {
    const rows = table('sphere-series.csv');
    for (const row of rows) {
      const at = sphereTemperatures(row.number('biot'), row.number('fourier'));
      for (const place of ['centre', 'half', 'surface', 'mean'] as const) {
        // Twelve figures are given; sums of terms near 1 round at 1e-15.
        expect(Math.abs(at[place] - row.number(place))).toBeLessThan(1e-11);
      }
    }
    expect(rows.length).toBeGreaterThan(50);
  });

  test('the surface is colder than the mean, and the mean than the centre', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        (biot, fourier) => {
          const { centre, mean, surface } = sphereTemperatures(biot, fourier);
          expect(surface).toBeLessThan(mean);
          expect(mean).toBeLessThan(centre);
          expect(centre).toBeLessThan(1 + 1e-6);
          expect(surface).toBeGreaterThan(0);
        },
      ),
      { seed: 35 },
    );
  });

  test('refuses what the series cannot do', () => {
    expect(sphereTemperatures(1, 0).centre).toBeNaN();
    expect(sphereTemperatures(-1, 1).centre).toBeNaN();
  });
});

test('the two Biot numbers differ by six', () => {
  // h 221 W/(m² K), D 6.35 mm, steel of 40 W/(m K): 0.006 with V/A and 0.035 with D.
  expect(biotVolumeToArea(221, 6.35e-3, 40)).toBeCloseTo(0.005_847, 6);
  expect(biotDiameter(221, 6.35e-3, 40)).toBeCloseTo(0.035_084, 6);
});
