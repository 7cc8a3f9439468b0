import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rigCharts, rigSeries } from '../../src/class/index.ts';
import { controlFigure, controlTable, offscreenDocument } from '../../src/figure/index.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { expectSound, textsOf } from './svg.ts';
import { anyText } from './texts.ts';

const document = offscreenDocument();

function chart(
  values: readonly number[],
  bench = 'bench-1',
  term: (i: number) => string = (i) => (i < 8 ? 'spring' : 'autumn'),
) {
  const checks = values.map((value, i) => ({
    id: `c${i}`,
    at: new Date(Date.UTC(2026, 1, 1 + i)).toISOString(),
    who: 'IK',
    bench,
    kind: 'zero' as const,
    subject: null,
    value,
    written: '',
    note: '',
    term: term(i),
  }));
  const terms = [...new Set(checks.map((one) => one.term))].map((name) => ({
    term: name,
    checks: checks.filter((one) => one.term === name),
    runs: [],
  }));
  const [first] = rigCharts(rigSeries(terms));
  if (first === undefined) throw new Error('no chart');
  return first;
}

const random = seededRandom(4);
const stepped = chart(Array.from({ length: 18 }, (_, i) => (i < 10 ? 1e-3 : 4e-3) + 2e-4 * random.normal()));

describe('a control chart', () => {
  it('shows limits, terms and the change in words, and marks what lies outside', () => {
    const root = expectSound(controlFigure(stepped, { document }));
    const texts = textsOf(root);
    for (const text of ['upper limit,', 'provisional', 'middle', 'spring', 'autumn', 'step 2026-02-11'])
      expect(texts).toContain(text);
    const marks = root.querySelectorAll('[data-part="values, filled diamonds outside the limits"] path');
    expect(marks.length).toBe(18);
    expect(root.querySelector('[data-part="moving average"]')).not.toBeNull();
  });

  it('has its numbers in a table, in the unit of display', () => {
    const { columns, rows } = controlTable(stepped);
    expect(columns.map(({ unit }) => unit)).toEqual([null, null, 'mV', 'mV', 'mV', null, 'mV']);
    expect(rows).toHaveLength(18);
    expect(rows.filter((row) => row[5] === 'outside')).toHaveLength(8);
    expect(rows[0]?.[0]).toBe('2026-02-01');
    expect(Number(rows[0]?.[2])).toBeCloseTo(1, 0);
  });

  it('draws few values without limits', () => {
    const root = expectSound(controlFigure(chart([1e-3, 2e-3]), { document }));
    expect(textsOf(root).join(' ')).toContain('limits need 6');
    expect(textsOf(root)).not.toContain('middle');
    expectSound(controlFigure({ ...chart([1e-3]), points: [] }, { document }));
  });

  it('is sound for any values, names and widths', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 200 }),
        anyText,
        fc.integer({ min: 100, max: 2000 }),
        (values, text, width) => {
          expectSound(
            controlFigure(
              chart(values, text, () => text),
              { document, width },
            ),
          );
        },
      ),
      { numRuns: 30 },
    );
  });
});
