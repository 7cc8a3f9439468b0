import { describe, expect, it } from 'vitest';
import { findSegments } from '../../src/decay/segment.ts';
import { defaultProtocolLimits } from '../../src/decay/segment-limits.ts';
import { segmentRemarks } from '../../src/decay/segment-remarks.ts';
import { defaultSegmentSettings } from '../../src/decay/segment-settings.ts';
import { plainTrial, simulateTrial, type TrialSettings } from '../support/trial.ts';
import { traceOf } from './segment-trials.ts';

function remarksOn(change: Partial<TrialSettings>, limits = defaultProtocolLimits) {
  const trial = simulateTrial({ ...plainTrial, rate: 10, ...change });
  return segmentRemarks(findSegments(traceOf(trial.temperature, 0.1)), limits);
}
const said = (remarks: ReturnType<typeof remarksOn>) => remarks.map((r) => `${r.code} ${r.severity}`);

describe('segmentRemarks', () => {
  it('says nothing of a plain trial', () => {
    expect(remarksOn({})).toEqual([]);
  });

  it('grades a short cooling by what can still be defended', () => {
    // exp(−1.6) = 0.20 and exp(−0.5) = 0.61 of the step are left.
    const some = remarksOn({ coolingTimeConstants: 1.6 });
    expect(said(some)).toEqual(['cooling-short caution']);
    expect(some[0]?.message).toContain('0.2');
    expect(said(remarksOn({ coolingTimeConstants: 0.5 }))).toEqual(['cooling-short repeat']);
    expect(said(remarksOn({ coolingTimeConstants: 1.2, baseline: 0 }))).toContain('cooling-short repeat');
  });

  it('compares the peak with target and limit', () => {
    const limits = { ...defaultProtocolLimits, peakTarget: 120, peakLimit: 130 };
    expect(said(remarksOn({ peak: 112 }, limits))).toEqual(['peak-low note']);
    expect(said(remarksOn({ peak: 80 }, limits))).toEqual(['peak-low caution']);
    expect(said(remarksOn({ peak: 140 }, limits))).toEqual(['peak-over-limit caution']);
    expect(said(remarksOn({ peak: 125 }, limits))).toEqual([]);
  });

  it('says that a recording starts hot, and that it has no heating', () => {
    expect(said(remarksOn({ baseline: 0, heating: 0 }))).toEqual(['starts-hot caution']);
    const quiet = segmentRemarks(
      findSegments(traceOf(new Float64Array(500).fill(22), 0.1)),
      defaultProtocolLimits,
    );
    expect(said(quiet)).toEqual(['heating-missing repeat']);
  });

  it('doubts temperatures that the rig cannot make', () => {
    expect(said(remarksOn({ ambient: 70, peak: 600 }))).toEqual(['temperature-implausible repeat']);
  });

  it('says which of several heatings was taken', () => {
    const once = simulateTrial({ ...plainTrial, rate: 10, coolingTimeConstants: 5 }).temperature;
    const found = findSegments(traceOf(Float64Array.from([...once, ...once]), 0.1));
    const remarks = segmentRemarks(found, defaultProtocolLimits);
    expect(said(remarks)).toEqual(['heated-again note']);
    expect(remarks[0]?.message).toContain('2 heatings; number 2');
  });

  it('says how short a cooling is that breaks off at once', () => {
    // 5 s of a time constant of 40 s: 22 + 90 exp(−1/8) = 101.4 °C.
    const short = remarksOn({ coolingTimeConstants: 0.125 });
    expect(said(short)).toEqual(['cooling-short repeat']);
    expect(short[0]?.message).toMatch(/ends [45](\.\d)? s after .* at 101 °C after a peak of 112 °C/);
  });

  it('says how many heatings there are where one was asked for that is not there', () => {
    const once = simulateTrial({ ...plainTrial, rate: 10, coolingTimeConstants: 5 }).temperature;
    const trace = traceOf(Float64Array.from([...once, ...once]), 0.1);
    const remarks = segmentRemarks(
      findSegments(trace, { ...defaultSegmentSettings, heating: 3 }),
      defaultProtocolLimits,
    );
    expect(said(remarks)).toEqual(['heating-missing repeat']);
    expect(remarks[0]?.message).toContain('only 2 heatings');
  });

  it('begins an interrupted heating with its first onset', () => {
    const first = simulateTrial({ ...plainTrial, rate: 10, coolingTimeConstants: 0.2 });
    const end = first.temperature.at(-1) ?? Number.NaN;
    // Heated further from where it was, towards 160 °C, then cooled.
    const more = Float64Array.from({ length: 300 }, (_, i) => 160 + (end - 160) * Math.exp(-i / 400));
    const top = more.at(-1) ?? Number.NaN;
    const fall = Float64Array.from({ length: 1600 }, (_, i) => 22 + (top - 22) * Math.exp(-i / 400));
    const found = findSegments(traceOf(Float64Array.from([...first.temperature, ...more, ...fall]), 0.1));
    const { segments } = found;
    expect(segments.heatings).toHaveLength(1);
    expect(Math.abs((segments.heating?.from ?? 0) - first.heatOn)).toBeLessThan(0.5);
    // 8 s of a time constant of 40 s: 90 K fall by 90 (1 − exp(−1/5)) = 16.3 K.
    const remarks = segmentRemarks(found, defaultProtocolLimits);
    expect(said(remarks)).toEqual(['heated-again note']);
    expect(remarks[0]?.message).toContain('The heating was interrupted');
    expect(remarks[0]?.message).toContain('fell by 16 K');
    expect(Math.abs((remarks[0]?.at?.to ?? 0) - first.temperature.length / 10)).toBeLessThan(0.5);
  });

  it('tells a dip in the heating from a flutter of the stream', () => {
    // 60 s of warming from 22 to 112 °C; after 30 s it goes down by a part of these 90 K and up again in 10 s.
    const dipped = (part: number) => {
      const heating = Array.from({ length: 600 }, (_, i) => {
        const down = Math.max(0, 1 - Math.abs(i - 350) / 50);
        return 22 + 90 * (Math.min(i, 300) / 600 + Math.max(0, i - 400) / 400 - part * down);
      });
      const cooling = Array.from({ length: 1600 }, (_, i) => 22 + 90 * Math.exp(-i / 400));
      const temperature = Float64Array.from([...new Array<number>(300).fill(22), ...heating, ...cooling]);
      return said(segmentRemarks(findSegments(traceOf(temperature, 0.1)), defaultProtocolLimits));
    };
    expect(dipped(0.04)).toEqual([]);
    expect(dipped(0.12)).toEqual(['heated-again note']);
    expect(dipped(0.25)).toEqual(['heated-again note']);
  });

  it('speaks in whole sentences with a figure and an action', () => {
    for (const r of remarksOn(
      { coolingTimeConstants: 0.5, peak: 80 },
      { ...defaultProtocolLimits, peakTarget: 120 },
    )) {
      expect(r.message).toMatch(/^[A-Z].*\d.*\.$/);
      expect(r.action).toMatch(/^[A-Z].*\.$/);
    }
  });
});
