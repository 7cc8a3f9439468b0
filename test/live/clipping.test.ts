import { describe, expect, test } from 'vitest';
import { analyzeDecay } from '../../src/decay/index.ts';
import { unknownContext } from '../../src/live/gate-input.ts';
import { TrialWatch } from '../../src/live/trial-watch.ts';
import type { TrialNow } from '../../src/live/types.ts';
import { simulateRecording } from '../../src/practice/index.ts';
import { BlockAssembler } from '../../src/recording/blocks.ts';
import type { Trace } from '../../src/sensing/index.ts';
import { traceOf } from '../decay/trials.ts';
import { benchTrial } from '../practice/bench.ts';
import { settingsFor } from './trials.ts';

const settings = settingsFor('brass-12');
const { rate } = benchTrial.logger;

/** What a logger writes whose range has ends, °C: the bench has 21 °C, the body comes to 70 °C. */
function readingsWithin(from: number, to: number): Float64Array {
  const { chain } = benchTrial;
  const output = { kind: 'degrees', unit: 'degC', step: 0.01, range: { from, to }, mistaken: null } as const;
  return simulateRecording({ ...benchTrial, chain: { ...chain, whiteNoise: 0.05, output } }).logged;
}

/** The trial when it is over. */
function ended(trace: Trace): TrialNow {
  return new TrialWatch(settings).take(trace, unknownContext, false);
}

const converterOf = ({ gates }: TrialNow) => gates.find(({ code }) => code === 'converter-free');

describe('a range that ends above the window', () => {
  test('spoils nothing: the trial goes on, and is no repeat when it is over', () => {
    const trace = traceOf(readingsWithin(-50, 50), rate);
    const now = ended(trace);
    expect(converterOf(now)).toMatchObject({ state: 'missed', spoils: false, unit: '1' });
    expect(converterOf(now)?.mend).toBe(
      'Before the next trial choose a wider input range or a smaller gain.',
    );
    expect(now.advice.action).toBe('stop');
    expect(analyzeDecay(trace, settings).verdict).not.toBe('repeat');
  });

  test('nor does it where the logger writes marks instead of readings', () => {
    const whole = readingsWithin(-50, 500);
    const kept = new BlockAssembler(1 / rate);
    const marked: number[] = [];
    for (const [i, value] of whole.entries()) {
      if (value > 50) marked.push(i / rate);
      else kept.add(i / rate, value);
    }
    const at = { from: marked[0] ?? Number.NaN, to: marked.at(-1) ?? Number.NaN };
    const trace: Trace = {
      ...traceOf(whole, rate),
      blocks: kept.blocks(),
      opening: whole.slice(0, 400),
      remarks: [
        { code: 'clipped', severity: 'caution', message: 'It left the range.', action: 'Widen it.', at },
      ],
    };
    const now = ended(trace);
    expect(converterOf(now)).toMatchObject({ state: 'missed', spoils: false });
    expect(now.advice.action).toBe('stop');
    expect(analyzeDecay(trace, settings).verdict).not.toBe('repeat');
  });
});

describe('a range that ends inside the window', () => {
  test.each([30, 40])('at %d °C asks for a repeat, as soon as the readings stay there', (end) => {
    const readings = readingsWithin(end, 500);
    const trace = traceOf(readings, rate);
    const now = ended(trace);
    expect(now.advice.action).toBe('repeat');
    expect(now.advice.message).toContain(`exactly at ${end} °C, the lowest value there is`);
    expect(now.advice.message).toContain('Repeat the trial with a wider input range');
    expect(analyzeDecay(trace, settings)).toMatchObject({ verdict: 'repeat' });
    // While it is recorded: soon after the last reading that was free.
    const free = readings.findLastIndex((value) => value > end + 0.5) / rate;
    const watch = new TrialWatch(settings);
    const seen: TrialNow[] = [];
    for (let second = 48; second <= free + 12; second += 4) {
      seen.push(watch.take(traceOf(readings.slice(0, second * rate), rate), unknownContext, true));
    }
    expect(seen.at(-1)?.advice.action).toBe('repeat');
  });
});
