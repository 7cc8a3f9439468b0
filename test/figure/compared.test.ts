import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandOf } from '../../src/figure/compared-data.ts';
import { overlap, placeNames } from '../../src/figure/compared-names.ts';
import { logTicks, onLog } from '../../src/figure/compared-scale.ts';
import {
  type ComparedCondition,
  comparedFigure,
  comparedRatioFigure,
  comparedTable,
  trendFigure,
  trendTable,
} from '../../src/figure/index.ts';
import { expectSound, textsOf } from './svg.ts';
import { anyText } from './texts.ts';

function condition(body: string, flow: string, predicted: number, ratio: number): ComparedCondition {
  const measured = predicted * ratio;
  return {
    body,
    flow,
    measured,
    measuredInterval: [0.95 * measured, 1.05 * measured],
    predicted,
    predictedInterval: [predicted / 1.3, predicted / 0.7],
    verdict: 'inconclusive',
  };
}

const four = [
  condition('brass-12', '60', 56.8, 1),
  condition('brass-12', '120', 39.4, 1.02),
  condition('aluminium-12', '60', 43.2, 1.04),
  condition('aluminium-12', '120', 29.9, 1.16),
];

describe('the band of a correlation', () => {
  it('is −23 % and +43 % in tau for ±30 % in h, as tau goes with 1/h', () => {
    // Arithmetic: 1/1.3 = 0.7692, 1/0.7 = 1.4286.
    const [below, above] = bandOf(0.3);
    expect(below).toBeCloseTo(0.76923, 5);
    expect(above).toBeCloseTo(1.42857, 5);
  });
});

describe('a logarithmic axis', () => {
  it('puts the geometric mean in the middle', () => {
    expect(onLog({ low: 2, high: 50, from: 0, to: 100 }, 10)).toBeCloseTo(50, 9);
  });

  it('writes round numbers that keep their distance', () => {
    const positive = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(positive, fc.double({ min: 1.2, max: 1e6, noNaN: true }), (low, ratio) => {
        const axis = { low, high: low * ratio, from: 0, to: 400 };
        const places = logTicks(axis, 30)
          .filter(({ text }) => text !== null)
          .map(({ value }) => onLog(axis, value));
        places.slice(1).forEach((place, i) => {
          expect(place - (places[i] ?? 0)).toBeGreaterThan(20);
        });
      }),
      { numRuns: 200, seed: 3 },
    );
  });
});

describe('names beside points', () => {
  it('never cover each other or an obstacle, and stay within bounds', () => {
    const point = fc.record({
      x: fc.integer({ min: 0, max: 300 }),
      y: fc.integer({ min: 0, max: 300 }),
      width: fc.integer({ min: 10, max: 120 }),
      height: fc.constant(15),
    });
    const bounds = { left: 0, top: 0, right: 300, bottom: 300 };
    fc.assert(
      fc.property(fc.array(point, { maxLength: 25 }), (points) => {
        const obstacles = points.map(({ x, y }) => ({
          left: x - 5,
          right: x + 5,
          top: y - 5,
          bottom: y + 5,
        }));
        const boxes = placeNames(points, obstacles, bounds).flatMap((one) => (one === null ? [] : [one.box]));
        boxes.forEach((box, i) => {
          expect(box.left >= 0 && box.right <= 300 && box.top >= 0 && box.bottom <= 300).toBe(true);
          for (const other of [...boxes.slice(i + 1), ...obstacles]) expect(overlap(box, other)).toBe(false);
        });
      }),
      { numRuns: 60, seed: 8 },
    );
  });
});

describe('measured against predicted', () => {
  it('puts equal values on the line of equality, on axes of one scale', () => {
    const root = expectSound(comparedFigure(four, { width: 700, accuracy: 0.3 }));
    const [x1, y1, x2, y2] = (root.querySelector('[data-part="equality"]')?.getAttribute('d') ?? '')
      .match(/[\d.]+/g)
      ?.map(Number) ?? [0, 0, 0, 0];
    // One scale: the line of equality is the diagonal of a square.
    expect((x2 ?? 0) - (x1 ?? 0)).toBeCloseTo((y1 ?? 0) - (y2 ?? 0), 1);
    const mark = root.querySelector('circle[data-part="condition"]');
    expect(Number(mark?.getAttribute('cx')) - (x1 ?? 0)).toBeCloseTo(
      (y1 ?? 0) - Number(mark?.getAttribute('cy')),
      1,
    );
  });

  it('names every condition, tells bodies apart by form, and says a disagreement', () => {
    const disagreeing = four.map(
      (one, i): ComparedCondition => (i === 0 ? { ...one, verdict: 'disagrees' } : one),
    );
    const root = expectSound(comparedFigure(disagreeing, { width: 700, accuracy: 0.3 }));
    const texts = textsOf(root);
    for (const name of [
      'brass-12 at 60, disagrees',
      'brass-12 at 120',
      'aluminium-12 at 60',
      'aluminium-12 at 120',
    ])
      expect(texts).toContain(name);
    expect(texts).toContain('±30 % in h');
    expect(root.querySelectorAll('circle[data-part="condition"]')).toHaveLength(2);
    expect(root.querySelectorAll('path[data-part="condition"]')).toHaveLength(2);
  });

  it('is as wide as asked for from 340 px to 1900 px', () => {
    for (const width of [340, 760, 1900]) {
      expect(comparedFigure(four, { width, accuracy: null })).toContain(`width="${width}"`);
    }
    expect(comparedFigure(four, { width: 20, accuracy: null })).toContain('width="340"');
  });

  it('stands without data, with an open interval, and with any numbers and names', () => {
    expectSound(comparedFigure([], { width: 400, accuracy: 0.3 }));
    expectSound(comparedRatioFigure([], { width: 400, accuracy: 0.3 }));
    const open = four.map((one): ComparedCondition => ({ ...one, predictedInterval: [20, null] }));
    expectSound(comparedFigure(open, { width: 400, accuracy: 0.3 }));
    const any = fc.array(
      fc.record({
        body: anyText,
        flow: anyText,
        measured: fc.double(),
        measuredInterval: fc.tuple(fc.double(), fc.double()),
        predicted: fc.double(),
        predictedInterval: fc.tuple(fc.double(), fc.option(fc.double())),
        verdict: fc.constantFrom('agrees', 'disagrees', 'inconclusive'),
      }),
      { maxLength: 6 },
    );
    fc.assert(
      fc.property(any, fc.option(fc.double({ min: 0, max: 0.99, noNaN: true })), (many, accuracy) => {
        expectSound(comparedFigure(many, { width: 500, accuracy }));
        expectSound(comparedRatioFigure(many, { width: 500, accuracy }));
      }),
      { numRuns: 25, seed: 4 },
    );
  });

  it('has the ratio as a number, in the figure of ratios and in the table', () => {
    expect(textsOf(expectSound(comparedRatioFigure(four, { width: 700, accuracy: 0.3 })))).toContain('1.16');
    expect(comparedTable(four).rows[3]?.[8]).toBeCloseTo(1.16, 12);
  });
});

describe('a trend', () => {
  /** tau = 10 D^1.5 exactly. */
  const series = [
    {
      name: 'brass at 60',
      expected: 1.5,
      points: [2, 4, 8].map((x) => {
        const measured = 10 * x ** 1.5;
        return { x, measured, interval: [0.98 * measured, 1.02 * measured] as const };
      }),
    },
  ];

  it('draws the slope of theory through points that follow it', () => {
    const root = expectSound(trendFigure(series, { width: 600, quantity: 'Diameter in mm' }));
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] =
      (root.querySelector('[data-part="expected slope"]')?.getAttribute('d') ?? '')
        .match(/[\d.]+/g)
        ?.map(Number) ?? [];
    for (const mark of Array.from(root.querySelectorAll('circle[data-part="condition"]'))) {
      const share = (Number(mark.getAttribute('cx')) - x1) / (x2 - x1);
      // Coordinates are written to 0.01 px.
      expect(Math.abs(y1 + share * (y2 - y1) - Number(mark.getAttribute('cy')))).toBeLessThan(0.05);
    }
    expect(textsOf(root)).toContain('brass at 60');
  });

  it('has a table, and leaves out what does not vary', () => {
    expect(trendTable(series, 'Diameter in mm').rows[1]?.slice(0, 3)).toEqual(['brass at 60', 4, 80]);
    const single = series.map((one) => ({ ...one, points: one.points.slice(0, 1) }));
    expect(textsOf(expectSound(trendFigure(single, { width: 600, quantity: 'Diameter in mm' })))).toContain(
      'nothing that differs in this alone',
    );
  });
});
