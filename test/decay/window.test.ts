import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanBlocks, departuresFromNeighbours } from '../../src/decay/clean.ts';
import { defaultProtocolLimits } from '../../src/decay/segment-limits.ts';
import { chooseBlockWidth, cutBlocks, cutWindow } from '../../src/decay/window.ts';
import { windowRemarks } from '../../src/decay/window-remarks.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { BlockAssembler } from '../../src/recording/index.ts';
import { traceOf } from './segment-trials.ts';

function decayWith(seed: number, rate: number, tau: number, seconds: number, noise: number): Float64Array {
  const random = seededRandom(seed);
  return Float64Array.from(
    { length: Math.floor(seconds * rate) },
    (_, i) => 22 + 90 * Math.exp(-i / rate / tau) + noise * random.normal(),
  );
}

describe('chooseBlockWidth', () => {
  // Rule of the method: whole mains periods, at most a tenth of the time constant, at most 1000 blocks.
  it.each([
    [1000, 40, 160, 50, 0.16, true],
    [1000, 0.5, 2, 50, 0.02, true],
    [10_000, 3, 12, 50, 0.02, true],
    [1000, 3, 12, 60, 0.05, true],
    [1000, 0.1, 0.5, 50, 0.01, false],
    [100, 1, 5, 50, 0.02, true],
    [50, 40, 160, 50, 0.16, false],
    [1, 250, 1000, 50, 1, false],
  ])('at %d Hz, time constant %d s, %d s long, %d Hz mains', (rate, tau, length, mains, width, humFree) => {
    const trace = traceOf(new Float64Array(100), 1 / rate);
    const chosen = chooseBlockWidth(trace, length, tau, mains);
    expect(chosen.width).toBeCloseTo(width, 6);
    expect(chosen.humFree).toBe(humFree);
    expect(length / chosen.width).toBeLessThanOrEqual(1000.001);
  });

  it('holds its bounds for any rate', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 10_000, noNaN: true }),
        fc.double({ min: 0.3, max: 250, noNaN: true }),
        fc.double({ min: 1, max: 8, noNaN: true }),
        fc.constantFrom(50, 60),
        (rate, tau, lengths, mains) => {
          const trace = traceOf(new Float64Array(10), 1 / rate);
          const { width, cells } = chooseBlockWidth(trace, lengths * tau, tau, mains);
          expect(Number.isInteger(cells) && cells >= 1).toBe(true);
          expect(width <= tau / 10 + 1e-9 || cells === 1).toBe(true);
          expect((lengths * tau) / width).toBeLessThanOrEqual(1001);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });
});

describe('cutBlocks', () => {
  it('averages exactly the readings of each block', () => {
    const values = decayWith(1, 100, 10, 50, 0.1);
    const cut = cutBlocks(
      traceOf(values, 0.01),
      { from: 5, to: 45 },
      { cells: 20, width: 0.2, humFree: true },
    );
    expect(cut.length).toBe(200);
    const sum = values.slice(500, 520).reduce((a, b) => a + b, 0);
    expect(cut.value[0]).toBeCloseTo(sum / 20, 10);
    expect(cut.time[0]).toBeCloseTo(5.095, 10);
    expect(cut.position[199]).toBe(199);
    expect(Array.from(cut.count).every((n) => n === 20)).toBe(true);
  });

  it('gives the same from coarse stored blocks as from single readings', () => {
    const values = decayWith(2, 1000, 10, 40, 0.1);
    const assembler = new BlockAssembler(0.001, 5000);
    values.forEach((x, i) => {
      assembler.add(i * 0.001, x);
    });
    const single = traceOf(values, 0.001);
    const stored = { ...single, blocks: assembler.blocks() };
    const span = { from: 4, to: 36 };
    const a = cutWindow(single, span, 10, 50);
    const b = cutWindow(stored, span, 10, 50);
    expect(b.blockWidth).toBeCloseTo(a.blockWidth, 9);
    expect(b.length).toBe(a.length);
    a.value.forEach((x, i) => {
      expect(b.value[i]).toBeCloseTo(x, 9);
    });
  });

  it('frees whole-period blocks from hum', () => {
    const hum = Float64Array.from(
      { length: 4000 },
      (_, i) => 22 + 5 * Math.sin(2 * Math.PI * 50 * i * 0.001 + 1),
    );
    const cut = cutWindow(traceOf(hum, 0.001), { from: 0, to: 4 }, 2, 50);
    expect(cut.humFree).toBe(true);
    for (const x of cut.value) expect(Math.abs(x - 22)).toBeLessThan(1e-9);
  });

  it('leaves out blocks in a gap and keeps the grid', () => {
    const assembler = new BlockAssembler(0.01);
    for (let i = 0; i < 3000; i++) if (i < 1000 || i >= 1205) assembler.add(i * 0.01, 50 - i * 0.005);
    const trace = { ...traceOf(new Float64Array(0), 0.01), blocks: assembler.blocks() };
    const cut = cutBlocks(trace, { from: 0, to: 30 }, { cells: 10, width: 0.1, humFree: true });
    expect(cut.length).toBe(279);
    expect(cut.missing).toBe(21);
    const after = cut.position.findIndex((p) => p >= 100);
    expect(cut.position[after]).toBe(121);
    expect(cut.time[after]).toBeCloseTo(12.145, 9);
  });

  it('takes single wild readings out exactly, stored singly or in blocks', () => {
    const values = decayWith(5, 1000, 5, 20, 0.1);
    const clean = values.slice();
    const places = [1203, 5555, 12_001, 17_500];
    places.forEach((p, i) => {
      values[p] = (values[p] ?? 0) + (i % 2 === 0 ? 150 : -80);
    });
    for (const capacity of [1 << 17, 3000]) {
      const store = (v: Float64Array) => {
        const assembler = new BlockAssembler(0.001, capacity);
        v.forEach((x, i) => {
          assembler.add(i * 0.001, x);
        });
        return { ...traceOf(new Float64Array(0), 0.001), blocks: assembler.blocks() };
      };
      const cut = cutWindow(store(values), { from: 0.5, to: 19.5 }, 5, 50);
      const reference = cutWindow(store(clean), { from: 0.5, to: 19.5 }, 5, 50);
      expect(cut.removed.readings).toBe(4);
      expect(cut.length).toBe(reference.length);
      cut.value.forEach((x, i) => {
        // One reading in twenty is missing: the mean moves by its noise and slope, not by the spike.
        expect(Math.abs(x - (reference.value[i] ?? 0))).toBeLessThan(0.15);
      });
      places.forEach((p, i) => {
        expect(Math.abs((cut.removed.times[i] ?? 0) - p / 1000)).toBeLessThan(0.01);
      });
    }
  });

  it('takes nothing out of clean decays, however few readings they have', () => {
    for (const [rate, tau] of [
      [1, 12],
      [5, 2],
      [100, 0.3],
      [20, 40],
      [1000, 3],
    ] as const) {
      for (const noise of [0, 0.02, 0.5]) {
        for (let seed = 1; seed <= 5; seed++) {
          const values = decayWith(seed, rate, tau, 4.5 * tau, noise);
          const { removed } = cleanBlocks(traceOf(values, 1 / rate).blocks, { from: 0, to: 1e9 });
          expect(removed.readings, `${rate} Hz, tau ${tau}, noise ${noise}, seed ${seed}`).toBe(0);
        }
      }
    }
  });

  it('takes nothing out of readings with a coarse step', () => {
    const values = decayWith(3, 50, 20, 90, 0.3).map((x) => Math.round(x));
    expect(cleanBlocks(traceOf(values, 0.02).blocks, { from: 0, to: 90 }).removed.readings).toBe(0);
  });

  it('leaves out exactly the wild readings, three in a row among them', () => {
    const values = decayWith(4, 50, 30, 150, 0.1);
    values[700] = -200;
    values.fill(0, 2500, 2503);
    const width = { cells: 8, width: 0.16, humFree: true };
    const { removed } = cutBlocks(traceOf(values, 0.02), { from: 0, to: 150 }, width);
    expect(removed.readings).toBe(4);
    expect(removed.times.map((t) => Math.round(t / 0.02))).toEqual([700, 2500, 2501, 2502]);
  });

  it.each([
    [1, 0],
    [0.25, 0],
    [0.25, 0.05],
  ])('leaves nothing out of blocks of readings on steps of %d K with noise of %d K', (step, noise) => {
    for (const rate of [10, 25, 50]) {
      const values = decayWith(5, rate, 30, 150, noise).map((x) => step * Math.round(x / step));
      const trace = traceOf(values, 1 / rate);
      for (const cells of [1, 4, 8]) {
        const width = { cells, width: cells / rate, humFree: false };
        expect(cutBlocks(trace, { from: 0, to: 150 }, width).removed.readings).toBe(0);
      }
    }
  });

  it('cancels any straight line', () => {
    const line = Float64Array.from({ length: 30 }, (_, i) => 5 - 3 * i);
    for (const d of departuresFromNeighbours(line)) expect(Math.abs(d)).toBeLessThan(1e-9);
  });
});

describe('windowRemarks', () => {
  const facts = {
    span: { from: 10, to: 50 },
    readings: 4000,
    removed: { readings: 0, times: [] },
    samplePeriod: 0.01,
    timeConstant: 10,
  };

  it('says nothing of a good window', () => {
    expect(windowRemarks(facts, defaultProtocolLimits)).toEqual([]);
  });

  it('counts and places what was left out', () => {
    const [remark] = windowRemarks(
      { ...facts, removed: { readings: 2, times: [12.5, 33] } },
      defaultProtocolLimits,
    );
    expect(remark?.code).toBe('spikes');
    expect(remark?.severity).toBe('note');
    expect(remark?.message).toContain('2 of 4000 readings stand far');
    expect(remark?.at).toEqual({ from: 12.5, to: 33 });
  });

  it('grades a gap by how much of the cooling it hides', () => {
    const hidden = (from: number, to: number) =>
      windowRemarks({ ...facts, gaps: [{ from, to }] }, defaultProtocolLimits).map(
        (r) => `${r.code} ${r.severity}`,
      );
    // Three time constants of 10 s from 10 s on.
    expect(hidden(20, 22)).toEqual(['gaps note']);
    expect(hidden(20, 25)).toEqual(['gaps caution']);
    expect(hidden(12, 32)).toEqual(['gaps repeat']);
    expect(hidden(42, 49)).toEqual(['gaps note']);
  });

  it('grades sparse sampling by whether the shape can be seen', () => {
    const at = (rate: number) =>
      windowRemarks({ ...facts, samplePeriod: 1 / rate }, defaultProtocolLimits)[0];
    expect(at(1)?.severity).toBe('caution');
    expect(at(0.2)?.severity).toBe('repeat');
    expect(at(1)?.action).toContain('10 Hz');
  });
});
