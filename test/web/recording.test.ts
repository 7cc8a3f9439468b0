import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Decision, Marks, Summary } from '../../src/server/contract/index.ts';
import {
  boundsOf,
  keptMarks,
  markNames,
  markSaid,
  moveMark,
  newPart,
  nothingMarked,
  type Positions,
  reachOf,
  readAddress,
  sameMarks,
  stepFor,
  timeByKey,
  writeAddress,
} from '../../web/src/recording/marks.ts';
import { neighboursOf } from '../../web/src/recording/neighbours.ts';
import {
  across,
  followed,
  leastView,
  moved,
  readingsFor,
  viewStep,
  viewWords,
  zoomed,
} from '../../web/src/recording/view.ts';
import {
  bytesWords,
  countWords,
  cutWords,
  decisionWords,
  marksWords,
  rejectionOf,
} from '../../web/src/recording/words.ts';

const positions: Positions = { baseline: { from: 0, to: 19 }, cooling: { from: 61, to: 220 } };
const bounds = boundsOf(220, 100);

function decision(parts: Partial<Decision>): Decision {
  return {
    id: 'one',
    at: '2026-03-02T10:15:00+01:00',
    who: 'R. Thorn',
    why: 'the jet came late',
    kind: 'marks',
    marks: { ...nothingMarked, baseline: { from: 0, to: 12 } },
    read: null,
    undoes: null,
    applies: true,
    ...parts,
  };
}

describe('moving a mark', () => {
  it('moves one end and leaves the other parts as they are found', () => {
    expect(moveMark(nothingMarked, positions, 'baseline-to', 15, bounds)).toEqual({
      baseline: { from: 0, to: 15 },
      cooling: null,
      heating: null,
    });
  });

  it('keeps what was moved before', () => {
    const first = moveMark(nothingMarked, positions, 'baseline-to', 15, bounds);
    const second = moveMark(first, { ...positions, baseline: first.baseline }, 'cooling-from', 64, bounds);
    expect(second).toEqual({ baseline: { from: 0, to: 15 }, cooling: { from: 64, to: 220 }, heating: null });
  });

  it('keeps every part in the recording, long enough, and the baseline before the cooling', () => {
    const anyMove = fc.record({ name: fc.constantFrom(...markNames), time: fc.double({ noNaN: false }) });
    fc.assert(
      fc.property(fc.array(anyMove, { maxLength: 12 }), (moves) => {
        let at = positions;
        let marks: Marks = nothingMarked;
        for (const { name, time } of moves) {
          marks = moveMark(marks, at, name, time, bounds);
          at = { baseline: marks.baseline ?? at.baseline, cooling: marks.cooling ?? at.cooling };
        }
        const { baseline, cooling } = at;
        if (baseline === null || cooling === null) throw new Error('a part was lost');
        expect(baseline.from).toBeGreaterThanOrEqual(0);
        expect(baseline.to - baseline.from).toBeGreaterThanOrEqual(bounds.least - 1e-9);
        expect(cooling.from).toBeGreaterThanOrEqual(baseline.to);
        expect(cooling.to - cooling.from).toBeGreaterThanOrEqual(bounds.least - 1e-9);
        expect(cooling.to).toBeLessThanOrEqual(220);
      }),
      { seed: 3 },
    );
  });

  it('does nothing to a part that the recording does not have, until one is marked', () => {
    const bare: Positions = { baseline: null, cooling: positions.cooling };
    expect(moveMark(nothingMarked, bare, 'baseline-from', 5, bounds)).toBe(nothingMarked);
    expect(newPart('baseline', bare, 220, 60)).toEqual({ from: 0, to: 22 });
    expect(newPart('cooling', { ...bare, cooling: null }, 220, 60)).toEqual({ from: 60, to: 220 });
  });
});

describe('keys on a mark', () => {
  const reach = reachOf(positions, 'cooling-from', bounds);

  it('go a step, ten steps with Shift, and to the ends', () => {
    expect(timeByKey('ArrowRight', false, 61, 0.5, reach)).toBe(61.5);
    expect(timeByKey('ArrowLeft', true, 61, 0.5, reach)).toBe(56);
    expect(timeByKey('PageUp', false, 61, 0.5, reach)).toBe(66);
    expect(timeByKey('Home', false, 61, 0.5, reach)).toBe(19);
    expect(timeByKey('End', false, 61, 0.5, reach)).toBeCloseTo(220 - bounds.least, 9);
    expect(timeByKey('Tab', false, 61, 0.5, reach)).toBeNull();
  });

  it('go in round steps that are never shorter than a sample', () => {
    expect(stepFor(220, 100)).toBe(0.5);
    expect(stepFor(1, 100)).toBe(0.01);
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
        fc.double({ min: 0.01, max: 1e6, noNaN: true }),
        (length, rate) => {
          const step = stepFor(length, rate);
          expect(step).toBeGreaterThanOrEqual(Math.max(length / 500, 1 / rate, 1e-6) * 0.999);
          expect(String(step / 10 ** Math.floor(Math.log10(step) + 1e-9)).slice(0, 1)).toMatch(/[125]/);
        },
      ),
      { seed: 11 },
    );
  });

  it('are told in words, with unit and length', () => {
    expect(markSaid('cooling-from', positions, 0.5)).toBe('61.0 seconds; the cooling is 159.0 seconds long');
    expect(markSaid('baseline-to', { ...positions, baseline: null }, 0.5)).toBe('not marked');
  });
});

describe('the address', () => {
  it('holds moved marks and the view, and keeps what else is in it', () => {
    const marks = { baseline: { from: 0, to: 15.25 }, cooling: null, heating: 2 };
    const search = writeAddress('?view=projector', { moved: marks, view: { from: 50, to: 75 } });
    expect(search).toBe('view=projector&baseline=0..15.25&heating=2&near=50..75');
    expect(readAddress(search)).toEqual({ moved: marks, view: { from: 50, to: 75 } });
    expect(writeAddress(search, { moved: null, view: null })).toBe('view=projector');
  });

  it('gives back what was put in', () => {
    const time = fc.integer({ min: 0, max: 1e6 }).map((n) => n / 1000);
    const span = fc
      .tuple(time, time)
      .map(([a, b]) => ({ from: Math.min(a, b), to: Math.max(a, b) + 0.001 }))
      .map(({ from, to }) => ({ from, to: Number(to.toFixed(6)) }));
    const anyMarks = fc.record({
      baseline: fc.option(span),
      cooling: fc.option(span),
      heating: fc.option(fc.integer({ min: 1, max: 100 })),
    });
    fc.assert(
      fc.property(anyMarks, fc.option(span), (marks, view) => {
        const back = readAddress(writeAddress('', { moved: marks, view }));
        expect(back.moved ?? nothingMarked).toEqual(marks);
        expect(back.view).toEqual(view);
      }),
      { seed: 7 },
    );
  });

  it('is not believed where it makes no sense', () => {
    for (const odd of [
      'baseline=5..2',
      'baseline=a..b',
      'baseline=1e400..2',
      'heating=0',
      'heating=1.5',
      'near=..',
    ]) {
      expect(readAddress(`?${odd}`)).toEqual({ moved: null, view: null });
    }
    fc.assert(
      fc.property(fc.string(), (text) => {
        readAddress(`?baseline=${text}&cooling=${text}&near=${text}`);
      }),
    );
  });
});

describe('the view', () => {
  it('keeps under two fingers what was under them', () => {
    expect(across([])).toBeNull();
    expect(across([40])).toEqual({ middle: 40, apart: 0 });
    expect(across([100, 40, 300])).toEqual({ middle: 70, apart: 60 });
    // Twice as far apart: half as long about 50 s, which has gone from the quarter to the middle of the figure.
    const was = { middle: 0.25, apart: 60 };
    expect(followed(null, 200, was, { middle: 0.5, apart: 120 }, 0.2)).toEqual({ from: 0, to: 100 });
    // One finger moves along only.
    const one = (middle: number) => ({ middle, apart: 0 });
    expect(followed({ from: 50, to: 90 }, 200, one(0.75), one(0.5), 0.2)).toEqual({ from: 60, to: 100 });
    expect(followed(null, 200, one(0.75), one(0.5), 0.2)).toBeNull();
  });

  it('comes nearer around a time that keeps its place, and goes back to the whole', () => {
    expect(zoomed(null, 200, 2, 50, 0.2)).toEqual({ from: 25, to: 125 });
    expect(zoomed({ from: 25, to: 125 }, 200, 0.5, 50, 0.2)).toBeNull();
    expect(zoomed({ from: 10, to: 10.3 }, 200, 4, 10.15, leastView(100))).toEqual({ from: 10.05, to: 10.25 });
  });

  it('stays within the recording', () => {
    const at = fc.double({ min: -1e3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(at, fc.double({ min: 0.1, max: 50, noNaN: true }), at, (about, factor, by) => {
        const view = moved(zoomed({ from: 20, to: 60 }, 200, factor, about, 0.2), 200, by);
        if (view === null) return;
        expect(view.from).toBeGreaterThanOrEqual(0);
        expect(view.to).toBeLessThanOrEqual(200 + 1e-9);
        expect(view.to - view.from).toBeGreaterThanOrEqual(0.2 - 1e-9);
      }),
      { seed: 12 },
    );
  });

  it('answers to keys, and is told in words', () => {
    expect(viewStep('ArrowLeft')).toEqual({ nearer: 1, along: -0.2 });
    expect(viewStep('+')?.nearer).toBe(2);
    expect(viewStep('a')).toBeNull();
    expect(viewWords(null, 220)).toBe('the whole recording, 0 s to 220 s');
    expect(viewWords({ from: 50, to: 75.25 }, 220)).toBe('50.0 s to 75.3 s');
  });

  it('takes readings only where they are of the stretch in view', () => {
    const time = Array.from({ length: 101 }, (_, i) => 50 + i / 10);
    const readings = { time, value: time, low: time, high: time, raw: true };
    expect(readingsFor(readings, { from: 50, to: 60 })).toBe(readings);
    expect(readingsFor(readings, { from: 50, to: 61 })).toBeNull();
    expect(readingsFor(readings, null)).toBeNull();
    expect(readingsFor(undefined, { from: 50, to: 60 })).toBeNull();
  });
});

describe('decisions', () => {
  const marks = decision({});
  const undone = [
    { ...marks, applies: false },
    decision({ id: 'two', kind: 'undo', undoes: 'one', marks: null, why: '' }),
  ];

  it('are told with their marks', () => {
    expect(decisionWords(marks, [marks])).toBe('marks moved: baseline 0 s to 12 s');
    expect(decisionWords(decision({ kind: 'reject', marks: null }), [])).toBe('taken out of the comparison');
    expect(undone.map((d) => decisionWords(d, undone))[1]).toBe('taken back: marks moved');
    expect(marksWords({ baseline: null, cooling: { from: 61.255, to: 220 }, heating: 2 })).toBe(
      'cooling 61.26 s to 220 s, heating 2',
    );
  });

  it('count until they are taken back', () => {
    expect(sameMarks(keptMarks([marks]), marks.marks ?? nothingMarked)).toBe(true);
    expect(keptMarks(undone)).toEqual(nothingMarked);
    expect(cutWords(null, [marks])).toBe('By moved marks: the jet came late');
    expect(cutWords(nothingMarked, [])).toBe('Marks moved, not yet kept');
    expect(cutWords(null, undone)).toBeNull();
  });

  it('say which of them takes the recording out', () => {
    const out = decision({ id: 'three', kind: 'reject', marks: null });
    expect(rejectionOf({ rejected: true, decisions: [marks, out] })).toBe(out);
    expect(rejectionOf({ rejected: false, decisions: [marks, { ...out, applies: false }] })).toBeNull();
  });
});

describe('numbers of a file', () => {
  it('are written for reading', () => {
    expect([bytesWords(999), bytesWords(1500), bytesWords(183_400), bytesWords(2.5e6)]).toEqual([
      '999 B',
      '1.5 kB',
      '183 kB',
      '2.5 MB',
    ]);
    expect([countWords(999), countWords(37_148), countWords(6e6)]).toEqual([
      '999',
      '37\u202F148',
      '6\u202F000\u202F000',
    ]);
  });
});

describe('neighbours', () => {
  const summary = (path: string, section: string, group: string, body: string, flow: string): Summary => ({
    path,
    place: { section, group, bench: null, body, flow, repeat: 1 },
    state: 'analyzed',
    message: null,
    note: null,
    timeConstant: null,
    verdict: null,
    codes: [],
    strip: null,
    decided: false,
    rejected: false,
    copyOf: null,
    duration: null,
    startedAt: null,
  });
  const list = [
    summary('a', 'A', '1', 'brass-12', '60'),
    summary('b', 'A', '1', 'brass-20', '60'),
    summary('c', 'A', '2', 'brass-12', '60'),
    summary('d', 'B', '1', 'brass-12', '120'),
  ];

  it('are of the same condition, or of the same group of the same section', () => {
    const first = list[0];
    if (first === undefined) throw new Error('no recording');
    const { condition, group } = neighboursOf('a', first.place, list);
    expect(condition.map((r) => r.path)).toEqual(['c']);
    expect(group.map((r) => r.path)).toEqual(['b']);
  });

  it('are none for a recording whose path says nothing', () => {
    const nowhere = { section: null, group: null, bench: null, body: null, flow: null, repeat: null };
    expect(neighboursOf('x', nowhere, list)).toEqual({ condition: [], group: [] });
  });
});
