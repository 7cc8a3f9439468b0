import { describe, expect, test } from 'vitest';
import type { CallView, FloorView, TileView, TrialView } from '../../src/server/contract/index.ts';
import { classOrder } from '../../web/src/floor/class-order.ts';
import { merged } from '../../web/src/floor/merge.ts';
import { tracePicture, traceSize } from '../../web/src/floor/trace-path.ts';
import { isUrgent, newCalls, shownCalls, urgenciesOf } from '../../web/src/floor/urgent.ts';
import {
  besideWords,
  calledWords,
  headWords,
  isHot,
  quietWords,
  remainingWords,
  remarksOf,
} from '../../web/src/floor/words.ts';

const trial: TrialView = {
  phase: 'cooling',
  since: 50,
  time: 80,
  temperature: 47.31,
  errorFraction: 0.31,
  heatOff: 50,
  timeConstant: null,
  forecast: { remaining: 23.4, interval: [20, 27], from: 'fit' },
  gates: [],
  advice: { action: 'go-on', message: 'Keep recording.' },
  series: { time: [0, 40, 80], temperature: [22, null, 47] },
};

const tile: TileView = {
  bench: 'bench-1',
  group: 'A1',
  section: 'A',
  condition: { body: 'brass-12', flow: '120' },
  repeat: 2,
  path: 'recordings/A/A1/brass-12_120-2.txt',
  trial,
  trouble: null,
  quiet: 0,
  trials: [],
  rig: [],
};

const floor = (names: string[], benches: TileView[]): FloorView => ({
  at: '2026-03-02T14:00:00.000Z',
  names,
  benches,
  calls: [],
  session: { elapsed: null, length: null, remaining: null, left: [], message: '' },
  trouble: null,
});

const call = (bench: string, urgency: number): CallView => ({ bench, urgency, why: 'Its file is silent.' });

describe('tiles as they come', () => {
  test('take the place of those before; the others stay, in the order of the benches', () => {
    const second = { ...tile, bench: 'bench-2' };
    const before = merged(null, floor(['bench-1', 'bench-2'], [tile, second]));
    const newer = { ...second, quiet: 9 };
    const after = merged(before, floor(['bench-2', 'bench-1'], [newer]));
    expect(after.benches).toEqual([newer, tile]);
    expect(merged(after, floor(['bench-1'], [])).benches).toEqual([tile]);
  });

  test('that never came are left out', () => {
    expect(merged(null, floor(['bench-1', 'bench-2'], [tile])).benches).toEqual([tile]);
  });
});

describe('tiles for a class', () => {
  const benches = Array.from({ length: 16 }, (_, i) => `bench-${i + 1}`);
  const tiles = benches.map((bench, i): TileView => {
    const body = i % 2 === 0 ? 'brass-20' : 'aluminium-12';
    return {
      ...tile,
      bench,
      condition: { body, flow: '60' },
      path: `recordings/A/A${i + 1}/${body}_60-1.txt`,
    };
  });

  test('stand by what they measure, in an order that tells nothing of benches', () => {
    const shown = classOrder(tiles);
    expect(new Set(shown)).toEqual(new Set(tiles));
    const heads = shown.map((one) => headWords(one, true));
    expect(heads).toEqual(heads.toSorted());
    const brass = shown.filter(({ condition }) => condition?.body === 'brass-20');
    expect(brass).not.toEqual(tiles.filter(({ condition }) => condition?.body === 'brass-20'));
  });

  test('keep their places as long as their files do', () => {
    const later = tiles.map((one) => ({ ...one, quiet: 7, trial: null }));
    const names = (order: readonly TileView[]) => order.map(({ bench }) => bench);
    expect(names(classOrder(later.toReversed()))).toEqual(names(classOrder(tiles)));
  });
});

describe('calls', () => {
  test('are new once, and again when they become more urgent', () => {
    const first = [call('bench-1', 40), call('bench-2', 60)];
    expect(newCalls(new Map(), first)).toEqual(first);
    const known = urgenciesOf(first);
    expect(newCalls(known, [{ ...call('bench-2', 60), why: 'Silent for longer.' }])).toEqual([]);
    expect(newCalls(known, [call('bench-1', 90)])).toEqual([call('bench-1', 90)]);
    expect(newCalls(known, [call('bench-1', 20)])).toEqual([]);
    // Gone meanwhile, so it is new when it comes back.
    expect(newCalls(urgenciesOf([]), first)).toEqual(first);
  });

  test('that can wait are a word away where there are many, the urgent ones never', () => {
    const calls = [60, 58, 55, 55, 55, 40, 20].map((urgency, i) => call(`bench-${i}`, urgency));
    expect(shownCalls(calls)).toEqual({ first: calls.slice(0, 5), rest: calls.slice(5) });
    expect(shownCalls(calls.slice(4))).toEqual({ first: calls.slice(4), rest: [] });
    const calm = Array.from({ length: 9 }, (_, i) => call(`bench-${i}`, 40));
    expect(shownCalls(calm).first).toHaveLength(4);
    expect(shownCalls(calm.slice(0, 5)).rest).toEqual([]);
  });

  test('ring where a trial is lost or will be, not where it may be stopped', () => {
    expect([100, 80, 70, 55].map((urgency) => isUrgent(call('x', urgency)))).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect([45, 35, 10].map((urgency) => isUrgent(call('x', urgency)))).toEqual([false, false, false]);
  });
});

describe('what a tile says', () => {
  test('names the group, and for a class nothing that tells groups apart', () => {
    expect([headWords(tile, false), besideWords(tile, false)]).toEqual([
      'A1',
      'bench-1, brass-12 at 120, repeat 2',
    ]);
    expect([headWords(tile, true), besideWords(tile, true)]).toEqual(['brass-12 at 120', 'repeat 2']);
    const unnamed = { ...tile, group: null, condition: null, repeat: null };
    expect([headWords(unnamed, false), besideWords(unnamed, false)]).toEqual(['bench-1', '']);
    expect(headWords(unnamed, true)).toBe('a bench');
    expect(calledWords(call('bench-1', 40), [tile])).toBe('A1 at bench-1');
    expect(calledWords(call('bench-9', 40), [tile])).toBe('bench-9');
  });

  test.each<[TrialView['forecast'], string, string]>([
    [{ remaining: 23.4, interval: [20, 27], from: 'fit' }, '23 s left', '20 s to 27 s'],
    [
      { remaining: 200, interval: [170, 240], from: 'expected' },
      '3 min 20 s left',
      '2 min 50 s to 4 min 00 s, as planned',
    ],
    [{ remaining: 17.2, interval: [17.1, 17.3], from: 'fit' }, '17 s left', 'to within 1 s'],
    [{ remaining: -0.4, interval: [-1, 3], from: 'fit' }, '0 s left', '0 s to 3 s'],
    [{ remaining: 30, interval: [20, null], from: 'fit' }, '30 s left', '20 s to not known'],
  ])('says how long it takes: %j', (forecast, time, range) => {
    expect(remainingWords({ ...trial, forecast })).toEqual({ time, range });
  });

  test('says no time left where nothing is waited for', () => {
    expect(remainingWords({ ...trial, phase: 'done' })).toBeNull();
    expect(remainingWords({ ...trial, forecast: null })).toBeNull();
    const lost = { action: 'repeat', message: 'The jet changed.' } as const;
    expect(remainingWords({ ...trial, advice: lost })).toBeNull();
  });

  test('repeats in remarks nothing that the advice says', () => {
    const gate = { code: 'x', source: 'protocol', mend: 'Wait.' } as const;
    const gates: TrialView['gates'] = [
      { ...gate, state: 'missed', message: 'It is 12 s.' },
      { ...gate, state: 'close', message: 'It is warm.' },
      { ...gate, state: 'met', message: 'It is steady.' },
    ];
    const advice = { action: 'repeat', message: 'It is 12 s. Wait.' } as const;
    expect(remarksOf({ ...trial, gates, advice })).toEqual(['It is warm. Wait.']);
  });

  test('says that nothing comes any more while a trial runs', () => {
    expect(quietWords({ ...tile, quiet: 12 })).toBe('no reading for 12 s');
    expect(quietWords({ ...tile, quiet: 2 })).toBeNull();
    expect(quietWords({ ...tile, quiet: 900, trial: { ...trial, phase: 'done' } })).toBeNull();
  });

  test('asks for care from the word to heat until the body has cooled', () => {
    const start: TrialView = { ...trial, phase: 'baseline', advice: { action: 'start', message: '' } };
    expect(isHot({ ...tile, trial: start })).toBe(true);
    expect(isHot({ ...tile, trial: { ...start, advice: { action: 'go-on', message: '' } } })).toBe(false);
    expect(isHot(tile)).toBe(true);
    expect(isHot({ ...tile, trial: null })).toBe(false);
  });
});

describe('the small trace', () => {
  test('goes from edge to edge, over what is missing, with the heat-off where it was', () => {
    const picture = tracePicture(trial);
    expect(picture?.path).toBe(`M3.0,${traceSize.height - 3}.0L${traceSize.width - 3}.0,3.0`);
    expect(picture?.heatOff).toBeCloseTo(3 + (50 / 80) * (traceSize.width - 6), 9);
  });

  test('is none of a single reading, and flat where only noise is seen', () => {
    const series = { time: [0], temperature: [22] };
    expect(tracePicture({ ...trial, series })).toBeNull();
    const noise = tracePicture({
      ...trial,
      heatOff: null,
      series: { time: [0, 80], temperature: [22, 22.1] },
    });
    expect(noise?.heatOff).toBeNull();
    const heights = [...(noise?.path ?? '').matchAll(/,([\d.]+)/g)].map(([, y]) => Number(y));
    expect(Math.abs((heights[0] ?? 0) - (heights[1] ?? 99))).toBeLessThan(2);
  });
});
