import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BudgetLine, Estimate } from '../../src/decay/index.ts';
import {
  budgetFigure,
  budgetTable,
  type CollapseSeries,
  collapseFigure,
  collapseTable,
  intervalFigure,
  intervalTable,
  offscreenDocument,
  strip,
} from '../../src/figure/index.ts';
import { expectSound, textsOf } from './svg.ts';
import { anyText } from './texts.ts';

const document = offscreenDocument();

function exponential(name: string, timeConstant: number, stray: string | null = null): CollapseSeries {
  const time = Array.from({ length: 200 }, (_, i) => (i * 3 * timeConstant) / 200);
  return { name, timeConstant, time, errorFraction: time.map((t) => Math.exp(-t / timeConstant)), stray };
}

describe('the collapse', () => {
  it('puts exponentials of every time constant on the line of slope −1', () => {
    const table = collapseTable([0.4, 12, 300].map((tau) => exponential(`tau ${tau}`, tau)));
    expect(table.rows.length).toBeGreaterThan(100);
    // Averages of a convex curve lie a little high: for the bins of 0.05 used here, by 0.05²/24.
    for (const [, , x, y] of table.rows) expect(Math.abs(Number(y) + Number(x))).toBeLessThan(2e-4);
  });

  it('names the strays and gives each a dash of its own', () => {
    const series = [exponential('a', 1), exponential('b', 2, 'bent late'), exponential('c', 3, 'bent early')];
    const root = expectSound(collapseFigure(series, { document }));
    const texts = textsOf(root);
    for (const text of ['2 to look at again', 'b', 'bent late', 'c', 'bent early'])
      expect(texts).toContain(text);
    const dashes = Array.from(root.querySelectorAll('[data-part="stray"]'), (g) =>
      g.getAttribute('stroke-dasharray'),
    );
    expect(new Set(dashes).size).toBe(2);
  });

  it('gives the ideal line a dash that no recording has', () => {
    const root = expectSound(
      collapseFigure([exponential('a', 1), exponential('b', 2, 'bent late')], { document }),
    );
    const dashOf = (part: string) => {
      const node = root.querySelector(`[data-part="${part}"]`);
      return node?.getAttribute('stroke-dasharray') ?? null;
    };
    expect(dashOf('ideal')).not.toBeNull();
    expect(new Set(['ideal', 'recording', 'stray'].map(dashOf)).size).toBe(3);
  });

  it('is as wide as asked for, and names its strays below where there is no room beside', () => {
    const series = Array.from({ length: 12 }, (_, i) => exponential(`body-${i} at 60`, 1, 'bent late'));
    for (const width of [340, 759, 760]) {
      const root = expectSound(collapseFigure(series, { document, width }));
      expect(Number(root.getAttribute('width'))).toBe(width);
      const height = Number(root.getAttribute('height'));
      const own = Array.from(root.querySelectorAll(':scope > text')).filter(
        (t) => !t.hasAttribute('transform'),
      );
      expect(own.length).toBeGreaterThan(24);
      for (const text of own) {
        expect(Number(text.getAttribute('x'))).toBeLessThanOrEqual(width);
        expect(Number(text.getAttribute('y'))).toBeLessThanOrEqual(height);
      }
      const places = own.map((text) => `${text.getAttribute('x')} ${text.getAttribute('y')}`);
      expect(new Set(places).size).toBe(places.length);
    }
  });

  it('is the same bytes for the same data, and stands without data', () => {
    const series = [exponential('a', 1), exponential('b', 2, 'bent late')];
    const first = collapseFigure(series, { document });
    expect(collapseFigure(series, { document: offscreenDocument() })).toBe(first);
    expect(textsOf(expectSound(collapseFigure([], { document })))).toContain(
      'no recordings with a time constant',
    );
  });

  it('withstands any numbers and names', () => {
    const series = fc.array(
      fc.record({
        name: anyText,
        timeConstant: fc.double(),
        time: fc.array(fc.double(), { maxLength: 10 }),
        errorFraction: fc.array(fc.double(), { maxLength: 10 }),
        stray: fc.option(anyText),
      }),
      { maxLength: 5 },
    );
    fc.assert(
      fc.property(series, (many) => {
        expectSound(collapseFigure(many, { document }));
        for (const one of many) expectSound(strip(one));
      }),
      { numRuns: 20, seed: 5 },
    );
  });

  it('has a small form of 120 × 28 px with the line and the trace', () => {
    const root = expectSound(strip(exponential('a', 5)));
    expect([root.getAttribute('width'), root.getAttribute('height')]).toEqual(['120', '28']);
    expect(root.querySelectorAll('[data-part="trace"], [data-part="ideal"]')).toHaveLength(2);
    expect(root.querySelectorAll('text')).toHaveLength(0);
  });
});

const estimates: readonly Estimate[] = [
  {
    method: 'log-linear-origin',
    value: 39.7,
    standardUncertainty: 0.3,
    interval: [39.1, 40.3],
    classroom: { value: 39.44, standardError: 0.002, interval: [39.436, 39.444] },
  },
  {
    method: 'exponential-fit',
    value: 40.03,
    standardUncertainty: 0.2,
    interval: [39.63, 40.43],
    classroom: null,
  },
];

describe('the estimates', () => {
  const root = expectSound(intervalFigure(estimates, 'exponential-fit', { document }));

  it('stand in a row each, the reported one set apart', () => {
    expect(root.querySelectorAll('[data-row]')).toHaveLength(2);
    expect(textsOf(root)).toContain('exponential fit, reported');
    const band = root.querySelector('[data-part="reported"]');
    const mark = root.querySelector('[data-row="exponential-fit"] [data-part="estimate"]');
    const top = Number(band?.getAttribute('y'));
    expect(Number(mark?.getAttribute('cy'))).toBeGreaterThan(top);
    expect(Number(mark?.getAttribute('cy'))).toBeLessThan(top + Number(band?.getAttribute('height')));
  });

  it('align their numbers on the decimal mark', () => {
    const whole = Array.from(root.querySelectorAll('text')).filter(
      (t) => t.textContent === '40' || t.textContent === '39',
    );
    const ends = whole.filter((t) => t.getAttribute('text-anchor') === 'end').map((t) => t.getAttribute('x'));
    expect(ends).toHaveLength(3);
    expect(new Set(ends).size).toBe(1);
  });

  it('show the classroom interval to its own scale: 75 times narrower here', () => {
    const paths = Array.from(root.querySelectorAll('[data-row="log-linear-origin"] path'), (p) =>
      (p.getAttribute('d') ?? '').match(/-?\d+(\.\d+)?/g)?.map(Number),
    );
    const [own, room] = paths.map((n) => (n?.[2] ?? 0) - (n?.[0] ?? 0));
    expect((room ?? 0) * 150).toBeGreaterThan((own ?? 0) * 0.9);
    expect((room ?? 0) * 150).toBeLessThan((own ?? 0) * 1.3);
  });

  it('have a table, and stand without any', () => {
    expect(intervalTable(estimates, 'exponential-fit').rows[1]?.slice(0, 3)).toEqual([
      'exponential fit',
      'reported',
      40.03,
    ]);
    expect(textsOf(expectSound(intervalFigure([], null, { document })))).toContain('no estimate');
    const broken = estimates.map((e) => ({ ...e, value: Number.NaN }));
    expectSound(intervalFigure(broken, 'exponential-fit', { document }));
  });
});

describe('the budget', () => {
  const lines: readonly BudgetLine[] = [
    { source: 'ambient', label: 'Ambient', contribution: 0.4, share: 0.16 },
    { source: 'noise', label: 'Noise', contribution: 0.9, share: 0.81 },
    { source: 'chain', label: 'Chain', contribution: Math.sqrt(0.03), share: 0.03 },
  ];

  it('is a bar of shares, largest first, that fills its length', () => {
    const root = expectSound(budgetFigure(lines));
    const bars = Array.from(root.querySelectorAll('[data-share]'));
    expect(bars.map((b) => b.getAttribute('data-share'))).toEqual(['noise', 'ambient', 'chain']);
    const widths = bars.map((b) => Number(b.getAttribute('width')));
    expect(widths[0]).toBeCloseTo(0.81 * 720, 1);
    expect(widths.reduce((a, b) => a + b, 0)).toBeCloseTo(720, 1);
    for (const name of ['noise 81 %', 'ambient 16 %', 'sensor chain 3 %'])
      expect(textsOf(root)).toContain(name);
    expect(textsOf(root)[0]).toContain('standard uncertainty 1.0 s');
  });

  it('has a table, and stands without lines or with broken ones', () => {
    expect(budgetTable(lines).rows[0]).toEqual(['ambient', 'Ambient', 0.4, 16]);
    expect(textsOf(expectSound(budgetFigure([])))).toContain('no budget');
    expectSound(budgetFigure(lines.map((l) => ({ ...l, share: Number.NaN }))));
  });
});
