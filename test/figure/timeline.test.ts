import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type SessionFigureData,
  type SessionStretch,
  timelineFigure,
  timelineTable,
} from '../../src/figure/index.ts';
import { clockText, durationText, minuteTicks, sessionRows } from '../../src/figure/timeline-data.ts';
import { expectSound, textsOf } from './svg.ts';
import { anyText } from './texts.ts';

const one = (
  kind: SessionStretch['kind'],
  from: number,
  to: number,
  condition: string | null = null,
  repeat: number | null = null,
): SessionStretch => ({ kind, from, to, condition, repeat });

const session: SessionFigureData = {
  stretches: [
    one('ice-bath', -900, 900),
    one('set-up', 0, 900),
    one('zeroing', 900, 1020),
    one('baseline', 1020, 1035, 'brass-12 at 60', 1),
    one('heating', 1035, 1071, 'brass-12 at 60', 1),
    one('cooling', 1071, 1200, 'brass-12 at 60', 1),
    one('settling', 1200, 1380, 'brass-12 at 60', 1),
    one('baseline', 1380, 1395, 'brass-12 at 60', 2),
    one('cooling', 1395, 1530, 'brass-12 at 60', 2),
    one('spare', 1530, 3000),
    one('reserve', 3000, 3600),
  ],
  length: 3600,
  start: null,
  notFitting: [{ condition: 'brass-20 at 60', stretches: [one('cooling', 0, 283, 'brass-20 at 60', 1)] }],
};

describe('the time line', () => {
  it('gives each trial a row with what leads up to it', () => {
    const rows = sessionRows(session.stretches);
    expect(
      rows.map(({ condition, repeat, stretches }) => [condition, repeat, stretches.map(({ kind }) => kind)]),
    ).toEqual([
      [null, null, ['ice-bath']],
      [null, null, ['set-up']],
      ['brass-12 at 60', 1, ['zeroing', 'baseline', 'heating', 'cooling']],
      ['brass-12 at 60', 2, ['settling', 'baseline', 'cooling']],
    ]);
  });

  it('draws stretches to scale', () => {
    const root = expectSound(timelineFigure(session, { width: 900 }));
    const width = (part: string) =>
      Number(root.querySelector(`g rect[data-part="${part}"]`)?.getAttribute('width'));
    expect(width('ice-bath') / width('set-up')).toBeCloseTo(2, 2);
    expect(width('set-up') / width('cooling')).toBeCloseTo(900 / 129, 1);
  });

  it('sets apart what does not fit', () => {
    const texts = textsOf(expectSound(timelineFigure(session, { width: 900 })));
    expect(texts).toContain('does not fit, 1 condition, from its own beginning');
    expect(texts).toContain('brass-20 at 60, 4.7 min');
    expect(timelineTable(session).rows.at(-1)).toEqual([null, null, 'does not fit', 'brass-20 at 60', null]);
  });

  it('counts by the clock where the session has a start', () => {
    expect([clockText(-900, null), clockText(2700, null), clockText(2700, 14 * 60)]).toEqual([
      '−0:15',
      '0:45',
      '14:45',
    ]);
    // From 14:05 on the marks stand at 14:30 and 15:00, 25 min and 55 min in.
    expect(minuteTicks(0, 3600, 3, 14 * 60 + 5)).toEqual([1500, 3300]);
    expect(['45 s', '8.8 min', '32 min', '2 h 5 min']).toEqual([45, 528, 1920, 7500].map(durationText));
  });

  it('draws now as a rule, to scale, and only within the session', () => {
    const svg = (now: number) => timelineFigure({ ...session, start: 14 * 60, now }, { width: 900 });
    const root = expectSound(svg(1800));
    expect(textsOf(root)).toContain('now 14:30');
    const x = (part: string) =>
      Number(
        /M(-?[\d.]+)/.exec(root.querySelector(`path[data-part="${part}"]`)?.getAttribute('d') ?? '')?.[1],
      );
    // The session ends at 3600 s, and the ice bath, at the left edge, begins 900 s before its first minute.
    expect((x('now') - 10) / (x('end') - 10)).toBeCloseTo((1800 + 900) / (3600 + 900), 2);
    for (const out of [-2000, 9000, Number.NaN]) {
      expect(expectSound(svg(out)).querySelector('[data-part="now"]')).toBeNull();
    }
  });

  it('stands with nothing in it, with any numbers and names, and with thousands of trials', () => {
    expectSound(timelineFigure({ ...session, stretches: [], notFitting: [] }, { width: 340 }));
    const stretch = fc.record({
      kind: fc.constantFrom('set-up', 'zeroing', 'cooling', 'settling', 'spare', 'reserve'),
      from: fc.double(),
      to: fc.double(),
      condition: fc.option(anyText),
      repeat: fc.option(fc.integer()),
    });
    fc.assert(
      fc.property(
        fc.array(stretch, { maxLength: 12 }),
        fc.integer({ min: 0, max: 3000 }),
        (stretches, width) => {
          expectSound(timelineFigure({ stretches, length: 5000, start: null, notFitting: [] }, { width }));
        },
      ),
      { numRuns: 40, seed: 6 },
    );
    const many = Array.from({ length: 5000 }, (_, i) =>
      one('cooling', i, i + 1, `body-${i % 90}`, Math.floor(i / 90) + 1),
    );
    const svg = timelineFigure(
      { stretches: many, length: 5000, start: null, notFitting: [] },
      { width: 900 },
    );
    expect(svg.length).toBeLessThan(3e6);
  });
});
