import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BudgetLine, Estimate } from '../../src/decay/index.ts';
import {
  budgetFigure,
  correlationFigure,
  correlationTable,
  intervalFigure,
  offscreenDocument,
  residualFigure,
  residualTable,
  traceFigure,
  traceLayout,
} from '../../src/figure/index.ts';
import { sampleTrace } from './sample.ts';
import { expectSound, textsOf } from './svg.ts';

const document = offscreenDocument();
const widths = [340, 390, 700, 820, 960, 1440, 1900];

function part(root: Element, name: string): Element {
  const found = root.querySelector(`[data-part="${name}"]`);
  if (!found) throw new Error(`no part ${name}`);
  return found;
}

/** The box of the drawing: every rectangle, circle and label lies within it. */
function expectWithin(root: Element): void {
  const [, , width = 0, height = 0] = (root.getAttribute('viewBox') ?? '').split(' ').map(Number);
  for (const node of Array.from(root.querySelectorAll('rect, circle, text'))) {
    // Axes and curves are drawn in groups of their own, moved to their panel.
    if (node.closest('[transform]')) continue;
    const x = Number(node.getAttribute('x') ?? node.getAttribute('cx') ?? 0);
    const y = Number(node.getAttribute('y') ?? node.getAttribute('cy') ?? 0);
    expect(x).toBeGreaterThanOrEqual(0);
    expect(x).toBeLessThanOrEqual(width);
    expect(y).toBeGreaterThanOrEqual(0);
    expect(y).toBeLessThanOrEqual(height);
  }
}

const estimates: readonly Estimate[] = [
  {
    method: 'point-36.8',
    value: 40.3,
    standardUncertainty: 0.5,
    interval: [39.2, 41.43],
    classroom: { value: 40.1, standardError: null, interval: null },
  },
  {
    method: 'exponential-fit',
    value: 40.03,
    standardUncertainty: 0.2,
    interval: [39.63, 40.43],
    classroom: null,
  },
];
const budget: readonly BudgetLine[] = [
  { source: 'noise', label: 'Noise', contribution: 0.9, share: 0.8 },
  { source: 'ambient', label: 'Ambient', contribution: 0.4, share: 0.12 },
  { source: 'drift', label: 'Drift', contribution: 0.2, share: 0.04 },
  { source: 'start-and-window', label: 'Start', contribution: 0.2, share: 0.04 },
];
const lags = Array.from({ length: 24 }, (_, i) => ({ lag: i + 1, value: i === 0 ? 0.5 : 0.02, limit: 0.2 }));

describe('figures of a wanted width', () => {
  it.each(widths)('are as wide as asked for, with everything in them, at %i px', (width) => {
    const all = [
      traceFigure(sampleTrace(), { document, width }),
      traceFigure(sampleTrace(), { document, width, heading: false, notes: 'numbers' }),
      residualFigure(sampleTrace(), { document, width }),
      correlationFigure(lags, { document, width }),
      intervalFigure(estimates, 'exponential-fit', { document, width }),
      budgetFigure(budget, { width }),
    ];
    for (const svg of all) {
      const root = expectSound(svg);
      expect(Number(root.getAttribute('width'))).toBe(width);
      expectWithin(root);
    }
  });

  it('are larger in all their parts at a larger scale', () => {
    const plain = traceFigure(sampleTrace(), { document, width: 960 });
    const large = traceFigure(sampleTrace(), { document, width: 1920, scale: 2 });
    // The same drawing but for the size at which it is shown.
    expect(large.replace('width="1920" height="1424"', 'width="960" height="712"')).toBe(plain);
  });

  it('are drawn for any size', () => {
    fc.assert(
      fc.property(fc.double(), fc.double(), (width, scale) => {
        expectSound(budgetFigure(budget, { width, scale }));
        expectSound(traceFigure(sampleTrace(), { document, width, scale }));
      }),
      { numRuns: 15, seed: 8 },
    );
  });
});

describe('remarks on a sheet without a margin', () => {
  it('are numbered at their places and written below in the same order', () => {
    const root = expectSound(traceFigure(sampleTrace(), { document, width: 390 }));
    expect(root.querySelectorAll('[data-part="tie"]')).toHaveLength(0);
    expect(root.querySelectorAll('[data-part="number"]')).toHaveLength(2);
    const codes = Array.from(root.querySelectorAll('[data-remark]'), (n) => n.getAttribute('data-remark'));
    expect(codes).toEqual(['baseline-short', 'zero-drift', 'time-assumed']);
  });

  it('are left to the page where only numbers are asked for', () => {
    const root = expectSound(traceFigure(sampleTrace(), { document, width: 390, notes: 'numbers' }));
    expect(root.querySelectorAll('[data-remark]')).toHaveLength(0);
    expect(root.querySelectorAll('[data-part="number"]')).toHaveLength(2);
  });
});

describe('the layout of a recording', () => {
  it.each([
    { width: 390, notes: 'numbers' as const },
    { width: 1100, heading: false },
    { width: 1900, scale: 1.6 },
  ])('tells where the window stands in the drawing: %o', (shape) => {
    const root = expectSound(traceFigure(sampleTrace(), { document, ...shape }));
    const layout = traceLayout(sampleTrace(), shape);
    const scale = 'scale' in shape ? (shape.scale ?? 1) : 1;
    const shade = part(root, 'window');
    const { upper } = layout;
    if (upper === null) throw new Error('no panel');
    const from = 60 + 40 * Math.log(1 / 0.9);
    const across = (t: number) => upper.left + ((t - upper.x[0]) / (upper.x[1] - upper.x[0])) * upper.width;
    expect(Number(shade.getAttribute('x')) * scale).toBeCloseTo(across(from), 1);
    expect(Number(shade.getAttribute('y')) * scale).toBeCloseTo(upper.top, 1);
    expect(Number(shade.getAttribute('height')) * scale).toBeCloseTo(upper.height, 1);
    expect(layout.places.map((p) => p === null)).toEqual([false, false, true]);
  });

  it('has no panels where nothing can be drawn', () => {
    const nothing = { ...sampleTrace(), time: [], temperature: [], points: [] };
    const layout = traceLayout(nothing);
    expect([layout.upper, layout.lower]).toEqual([null, null]);
  });
});

describe('a recording seen from near', () => {
  const view = { from: 56, to: 66 };

  it('spans the view in time and what is in it in temperature', () => {
    const { upper } = traceLayout(sampleTrace(), { view });
    expect(upper?.x).toEqual([56, 66]);
    // Between 56 s and 66 s the sphere is above 90 °C: 90 K · e^(−6/40) + 22 °C = 99.5 °C.
    expect(upper?.y[0]).toBeGreaterThan(90);
  });

  it('leaves out what is not in view, and cuts what goes on beyond it', () => {
    const root = expectSound(traceFigure(sampleTrace(), { document, view }));
    const texts = textsOf(root);
    expect(texts).not.toContain('baseline');
    expect(texts.join()).not.toContain('ambient');
    expect(texts).toContain('hot tail');
    expect(texts).toContain('peak 112.0 °C');
    // The lower panel is of the whole window.
    const lower = traceLayout(sampleTrace(), { view }).lower;
    expect(lower?.x[1]).toBeCloseTo(40 * Math.log(9), 9);
  });

  it('marks single readings where it is given them', () => {
    const time = Array.from({ length: 50 }, (_, i) => 58 + i * 0.1);
    const readings = { time, value: time.map((t) => 110 - t / 10), raw: true };
    const root = expectSound(traceFigure(sampleTrace(), { document, view, readings }));
    expect(part(root, 'single readings').querySelectorAll('circle').length).toBe(50);
    const far = traceFigure(sampleTrace(), { document, readings });
    expect(far).not.toContain('single readings');
  });

  it('withstands any view and any readings', () => {
    const number = fc.oneof(fc.double(), fc.double({ min: -10, max: 250, noNaN: true }));
    const close = fc.record({
      time: fc.array(number, { maxLength: 8 }),
      value: fc.array(number, { maxLength: 8 }),
      raw: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.record({ from: number, to: number }), fc.option(close), (at, readings) => {
        expectSound(traceFigure(sampleTrace(), { document, view: at, readings }));
      }),
      { numRuns: 30, seed: 6 },
    );
  });
});

describe('the correlation of residuals', () => {
  it('fills the marks outside the limits and counts them', () => {
    const root = expectSound(correlationFigure(lags, { document }));
    expect(textsOf(root).join(' ')).toContain('1 of 24 lie outside');
    const marks = Array.from(
      part(root, 'correlations, filled outside the limits').querySelectorAll('circle'),
    );
    const fills = marks.map((m) => m.getAttribute('fill'));
    expect(fills[0]).not.toBe(fills[1]);
    expect(new Set(fills.slice(1)).size).toBe(1);
  });

  it('has a table, and stands without lags or with broken ones', () => {
    expect(correlationTable(lags).rows[0]).toEqual([1, 0.5, 0.2]);
    expect(textsOf(expectSound(correlationFigure([], { document })))).toContain(
      'too few residuals for a correlation',
    );
    const odd = fc.array(fc.record({ lag: fc.double(), value: fc.double(), limit: fc.double() }), {
      maxLength: 6,
    });
    fc.assert(
      fc.property(odd, (many) => {
        expectSound(correlationFigure(many, { document }));
      }),
      { numRuns: 50, seed: 2 },
    );
  });
});

describe('residuals of fitted blocks', () => {
  const points = Array.from({ length: 80 }, (_, i) => ({
    time: 65 + i,
    residual: i % 2 ? 0.1 : -0.1,
    band: 0.03,
  }));

  it('stand in place of those of the curve, over the band of the fit', () => {
    const root = expectSound(residualFigure(sampleTrace(), { document, points }));
    expect(part(root, 'residuals').querySelectorAll('circle').length).toBe(80);
    // Two standard uncertainties above zero and below, where the largest residual is 0.1 K and 8 % are left free.
    const band = (part(root, 'band of the fit').querySelector('path') ?? root).getAttribute('d') ?? '';
    const heights = Array.from(band.matchAll(/,(-?[\d.]+)/g), (m) => Number(m[1]));
    const span = Math.max(...heights) - Math.min(...heights);
    expect(span / 170).toBeGreaterThan(0.5);
    expect(span / 170).toBeLessThan(0.62);
    expect(residualTable(sampleTrace(), points).rows[0]).toEqual([65, -0.1, 0.03]);
  });

  it('are left out where they are broken', () => {
    const broken = [{ time: Number.NaN, residual: 1, band: Number.POSITIVE_INFINITY }];
    expectSound(residualFigure(sampleTrace(), { document, points: broken }));
    expect(residualTable(sampleTrace(), broken).columns).toHaveLength(2);
  });
});
