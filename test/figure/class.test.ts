import { describe, expect, test } from 'vitest';
import { type ClassRecording, classSummary } from '../../src/class/index.ts';
import {
  causesFigure,
  causesOfSpread,
  causesTable,
  conditionStrips,
  conditionsFigure,
  conditionsTable,
} from '../../src/figure/index.ts';
import { seededRandom } from '../../src/practice/random.ts';

/** A class of 20 groups at one body, of which two lie off. */
function class20(): ClassRecording[] {
  const random = seededRandom(3);
  return Array.from({ length: 40 }, (_, i): ClassRecording => {
    const group = `<G${(i % 20) + 1}>`;
    const value = 40 * Math.exp(0.02 * random.normal() + (i % 20 < 2 ? 0.3 : 0));
    return {
      path: `recordings/${i}`,
      term: null,
      section: null,
      group,
      bench: `bench-${i % 4}`,
      home: { section: null, bench: null },
      borrows: [],
      body: 'brass-12',
      flow: '120',
      repeat: 1 + Math.floor(i / 20),
      day: null,
      timeConstant: { value, own: 0.004, shared: 0.003, degreesOfFreedom: 50 },
      predicted: 42,
      counts: true,
      reason: null,
      sha256: String(i),
      chain: null,
      ambient: null,
      sketch: null,
    };
  });
}

const summary = classSummary(class20());
const strips = conditionStrips(summary.conditions, (group) => group);
const count = (svg: string, part: string) => svg.split(`data-part="${part}"`).length - 1;

describe('the strips of conditions', () => {
  test.each([340, 760, 1400])(
    'show every group, the band, and by name who is asked to look again at %d px',
    (width) => {
      const svg = conditionsFigure(strips, { width });
      expect(count(svg, 'group')).toBe(18);
      expect(count(svg, 'group apart')).toBe(2);
      expect(count(svg, 'band')).toBe(1);
      expect(svg).toContain('&lt;G1&gt;: look again');
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    },
  );

  test('name nobody where nobody shall be known', () => {
    const unnamed = conditionStrips(summary.conditions, () => '');
    expect(conditionsFigure(unnamed)).not.toContain('G1');
    expect(JSON.stringify(conditionsTable(unnamed))).not.toContain('G1');
  });

  test('have every group in the table behind, in the order of the values', () => {
    const { rows } = conditionsTable(strips);
    expect(rows).toHaveLength(20);
    const values = rows.map((row) => Number(row[2]));
    expect(values).toEqual(values.toSorted((a, b) => a - b));
  });

  test('say so where there is nothing', () => {
    expect(conditionsFigure([])).toContain('no condition that counts');
  });
});

describe('the causes of a spread', () => {
  const rows = summary.causes === null ? [] : causesOfSpread(summary.causes);

  test('are a row each with interval, and the trials alike in all at the end', () => {
    expect(rows.map(({ name }) => name)).toEqual(['group', 'bench', 'trials alike in all of this']);
    expect(rows.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
    for (const width of [340, 760]) {
      const svg = causesFigure(rows, { width });
      expect(count(svg, 'deviation')).toBe(3);
      expect(count(svg, 'interval')).toBe(2);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
    expect(causesTable(rows).rows).toHaveLength(3);
  });

  test('run off the sheet where few levels tell no upper end', () => {
    const open = rows.map((one) => ({ ...one, interval: [0, null] as const }));
    const svg = causesFigure(open);
    expect(count(svg, 'goes on')).toBe(3);
    expect(causesTable(open).rows[0]?.[4]).toBeNull();
    expect(causesFigure([])).toContain('too few recordings');
  });
});
