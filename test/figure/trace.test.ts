import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  darkTheme,
  errorFractionTable,
  offscreenDocument,
  residualFigure,
  residualTable,
  traceFigure,
  traceTable,
} from '../../src/figure/index.ts';
import { bareTrace, coolingHeight, sampleTrace } from './sample.ts';
import { expectSound, textsOf } from './svg.ts';

const document = offscreenDocument();

function part(root: Element, name: string): Element {
  const found = root.querySelector(`[data-part="${name}"]`);
  if (!found) throw new Error(`no part ${name}`);
  return found;
}

/** The numbers of a path's data. */
function numbersOf(path: Element): number[] {
  return (path.getAttribute('d') ?? '').match(/-?\d+(\.\d+)?/g)?.map(Number) ?? [];
}

describe('the figure of a recording', () => {
  const root = expectSound(traceFigure(sampleTrace(), { document }));
  const texts = textsOf(root);

  it('names its parts on the figure itself', () => {
    const expected = [
      'group 3, run 2',
      'Time constant 40.0 ± 0.4 s',
      'usable with remarks',
      'baseline',
      'heating',
      'hot tail',
      'clean cooling',
      'window, error fraction 0.9 to 0.1',
      'heat off',
      'peak 112.0 °C',
      'fitted curve',
      'ambient 22.000 °C, standard uncertainty 0.060 K',
      'Temperature in °C',
      'Time in s',
      'ln of error fraction',
      'window opens at 0.9',
      'window closes at 0.1',
      'error fraction 0.368',
    ];
    for (const text of expected) expect(texts).toContain(text);
    expect(texts.join()).not.toMatch(/-\d/);
  });

  it('shades the window over its own time', () => {
    // The panel is 634 px wide from x = 62; the recording lasts 220 s; ln(1/0.9) × 40 s = 4.21 s after 60 s.
    const shade = part(root, 'window');
    expect(Number(shade.getAttribute('x'))).toBeCloseTo(62 + (634 * (60 + 40 * Math.log(1 / 0.9))) / 220, 0);
    expect(Number(shade.getAttribute('width'))).toBeCloseTo((634 * 40 * Math.log(9)) / 220, 0);
  });

  it('marks the 36.8 % point where one time constant has passed since an error fraction of 1', () => {
    const length = 40 * Math.log(9);
    const delay = 40 * Math.log(coolingHeight / 90);
    const expected = 62 + (634 * (40 + delay - 40 * Math.log(1 / 0.9))) / length;
    expect(Number(part(root, '36.8 % point').getAttribute('cx'))).toBeCloseTo(expected, 0);
  });

  it('draws the straight line and the fit of one exponential on each other', () => {
    const line = numbersOf(part(root, 'straight line of the time constant').querySelector('path') ?? root);
    const fit = numbersOf(part(root, 'fitted error fraction').querySelector('path') ?? root);
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = line;
    const slope = (y2 - y1) / (x2 - x1);
    for (let i = 0; i < fit.length; i += 2) {
      expect(Math.abs((fit[i + 1] ?? 0) - (y1 + slope * ((fit[i] ?? 0) - x1)))).toBeLessThan(0.5);
    }
  });

  it('ties each remark that has a place to that place, and writes all of them', () => {
    expect(root.querySelectorAll('[data-part="tie"]')).toHaveLength(2);
    expect(root.querySelectorAll('[data-remark]')).toHaveLength(3);
    const [, , x = 0] = numbersOf(root.querySelectorAll('[data-part="tie"]')[0] ?? root);
    expect(x).toBeGreaterThanOrEqual(62);
    expect(x).toBeLessThanOrEqual(62 + (634 * 19) / 220);
  });

  it('says in words what it shows', () => {
    const said = root.querySelector('desc')?.textContent ?? '';
    expect(said).toContain('baseline 0.0 s to 19.0 s');
    expect(said).toContain('The baseline of 19 s is short.');
  });
});

describe('any figure of a recording', () => {
  it('is the same bytes for the same data, in any document', () => {
    const first = traceFigure(sampleTrace(), { document });
    traceFigure(bareTrace(), { document });
    expect(traceFigure(sampleTrace(), { document: offscreenDocument() })).toBe(first);
  });

  it('uses the colours of the theme it is given', () => {
    const svg = traceFigure(sampleTrace(), { document, theme: darkTheme });
    const known: readonly string[] = Object.values(darkTheme);
    for (const colour of svg.match(/#[0-9a-f]{6}\b/gi) ?? []) expect(known).toContain(colour);
    expect(svg).not.toContain('currentColor');
  });

  it('says what is missing where parts are missing', () => {
    const root = expectSound(traceFigure(bareTrace(), { document }));
    expect(textsOf(root)).toContain('no cooling from which an error fraction follows');
    expect(root.querySelector('[data-part="window"]')).toBeNull();
    const nothing = { ...bareTrace(), time: [], temperature: [], remarks: [] };
    expect(textsOf(expectSound(traceFigure(nothing, { document })))).toContain(
      'no readings that can be drawn',
    );
  });

  it('draws without any one part', () => {
    const whole = sampleTrace();
    for (const key of ['baseline', 'heating', 'hotTail', 'cooling', 'window', 'heatOff', 'peak'] as const) {
      expectSound(traceFigure({ ...whole, segments: { ...whole.segments, [key]: null } }, { document }));
    }
    for (const key of ['ambient', 'fit', 'timeConstant'] as const) {
      expectSound(traceFigure({ ...whole, [key]: null }, { document }));
    }
    expectSound(traceFigure({ ...whole, points: [] }, { document }));
  });

  it('escapes hostile names and remarks', () => {
    const evil = '</title><script>alert(1)</script><img src=x onerror="1">\u0000\u202E&#x41;]]>';
    const svg = traceFigure(
      {
        ...sampleTrace(),
        name: evil,
        headline: evil,
        verdict: evil,
        remarks: [{ code: 'gaps', severity: 'repeat', message: evil, action: evil, at: { from: 1, to: 2 } }],
      },
      { document },
    );
    expectSound(svg);
    expect(svg).not.toMatch(/<script|<img|\u202E/);
  });

  it('counts the remarks that find no room', () => {
    const many = Array.from({ length: 60 }, () => sampleTrace().remarks).flat();
    const root = expectSound(traceFigure({ ...sampleTrace(), remarks: many }, { document }));
    const shown = root.querySelectorAll('[data-remark]').length;
    expect(textsOf(root)).toContain(`${180 - shown} more remarks: see the list.`);
    for (const text of Array.from(root.querySelectorAll('[data-remark] text'))) {
      expect(Number(text.getAttribute('y'))).toBeLessThanOrEqual(700);
    }
  });

  it('withstands any numbers', () => {
    const number = fc.oneof(fc.double(), fc.double({ min: -1000, max: 1000, noNaN: true }));
    const span = fc.option(fc.record({ from: number, to: number }));
    const data = fc.record({
      time: fc.array(number, { maxLength: 20 }),
      temperature: fc.array(number, { maxLength: 20 }),
      segments: fc.record({
        baseline: span,
        heating: span,
        hotTail: span,
        cooling: span,
        window: span,
        heatOff: fc.option(number),
        peak: fc.option(fc.record({ time: number, temperature: number })),
      }),
      ambient: fc.option(fc.record({ value: number, u: number })),
      fit: fc.option(fc.record({ tStart: number, a: number, b: number, c: number, tb: number, tau: number })),
      timeConstant: fc.option(fc.record({ value: number, interval: fc.tuple(number, number) })),
      limits: fc.tuple(number, number),
      points: fc.array(fc.record({ time: number, errorFraction: number, fitted: number }), { maxLength: 12 }),
    });
    fc.assert(
      fc.property(data, span, (odd, at) => {
        const remarks = sampleTrace().remarks.map((r) => ({ ...r, ...(at ? { at } : {}) }));
        expectSound(
          traceFigure({ ...sampleTrace(), envelope: { low: [], high: [] }, ...odd, remarks }, { document }),
        );
        expectSound(residualFigure({ ...sampleTrace(), ...odd }, { document }));
      }),
      { numRuns: 30, seed: 4 },
    );
  });
});

describe('residuals', () => {
  it('are drawn and told about their own fit', () => {
    const root = expectSound(residualFigure(sampleTrace(), { document }));
    expect(textsOf(root)).toContain('Residual in K');
    expect(textsOf(root)).toContain('window ends');
  });

  it('are the readings less the curve: the noise that was put in, 0.2 K and 0.05 K', () => {
    // Correlated noise of 0.2 K and 0.5 s over 155 s: the mean scatters by 0.2 √(2 · 0.5/155) = 0.016 K.
    const values = residualTable(sampleTrace()).rows.map((row) => Number(row[1]));
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    expect(Math.abs(mean)).toBeLessThan(0.08);
    expect(Math.max(...values.map(Math.abs))).toBeLessThan(1);
  });

  it('say so where there is no fit', () => {
    expect(textsOf(expectSound(residualFigure(bareTrace(), { document })))).toContain(
      'no fit that leaves residuals',
    );
  });
});

describe('tables behind the figure', () => {
  it('give the part of the recording and the fit where it holds', () => {
    const table = traceTable(sampleTrace(), 100);
    expect(table.rows).toHaveLength(100);
    expect(table.columns.map((c) => c.name)).toEqual(['Time', 'Temperature', 'Part', 'Fitted temperature']);
    expect(table.rows[0]?.[2]).toBe('baseline');
    expect(table.rows[0]?.[3]).toBeNull();
    const inWindow = table.rows.filter((row) => row[2] === 'window');
    expect(inWindow.length).toBeGreaterThan(20);
    for (const [t, , , fitted] of inWindow) {
      expect(fitted).toBeCloseTo(22 + coolingHeight * Math.exp(-(Number(t) - 60) / 40), 9);
    }
    expect(errorFractionTable(sampleTrace()).rows.length).toBe(sampleTrace().points.length);
  });
});
