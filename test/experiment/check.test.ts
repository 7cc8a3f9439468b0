import { describe, expect, test } from 'vitest';
import { checkExperiment, type ExperimentRemark, experimentTemplate } from '../../src/experiment/index.ts';
import type { RemarkCode } from '../../src/remark/index.ts';
import { experimentOf, templateWith } from './read.ts';

function remarks(text: string): readonly ExperimentRemark[] {
  return checkExperiment(experimentOf(text));
}

function one(text: string, code: RemarkCode): ExperimentRemark {
  const found = remarks(text).filter((remark) => remark.code === code);
  expect(found).toHaveLength(1);
  const [remark] = found;
  if (remark === undefined) throw new Error(`no remark ${code}`);
  return remark;
}

describe('what is unusual about an experiment', () => {
  test('is nothing in the example: notes at most', () => {
    expect(remarks(experimentTemplate).filter(({ severity }) => severity !== 'note')).toEqual([]);
  });

  test('a sphere wider than the jet', () => {
    const text = templateWith(['diameter: 8.00 mm', 'diameter: 20.00 mm']);
    const remark = one(text, 'jet-narrow');
    expect(remark).toMatchObject({ severity: 'caution', place: ['bodies', 'aluminium-8', 'diameter'] });
    expect(remark.conditions).toEqual(['aluminium-8 at 60', 'aluminium-8 at 120']);
    expect(remark.message).toContain('wider than the nozzle of 16 mm');
  });

  test('a Biot number over 0.1', () => {
    // h about 150 W/m²K, r/3 = 2 mm, k = 0.2 W/(m K): Bi about 1.5.
    const text = templateWith(['    material: aluminium\n', '    material: epoxy\n']);
    expect(one(text, 'biot-not-small')).toMatchObject({
      severity: 'caution',
      place: ['bodies', 'aluminium-12', 'material'],
    });
  });

  test('a target over the limit of an adhesive, or over that of the protocol', () => {
    const own = templateWith(['    limit: 140 degC\n', '    limit: 80 degC\n']);
    expect(one(own, 'target-over-limit')).toMatchObject({
      severity: 'caution',
      place: ['bodies', 'brass-12', 'limit'],
      message: 'brass-12 shall be heated to 95 °C, above its limit of 80 °C.',
    });
    const every = templateWith(['  limit: 140 degC     ', '  limit: 90 degC     ']);
    expect(one(every, 'target-over-limit').place).toEqual(['protocol', 'target']);
  });

  test('a body beyond the core of the jet', () => {
    const remark = one(templateWith(['stand-off: 12 mm', 'stand-off: 160 mm']), 'jet-decayed');
    expect(remark.place).toEqual(['nozzle', 'stand-off']);
    expect(remark.message).toContain('10 nozzle diameters');
  });

  test('a Reynolds number outside the data of the correlation', () => {
    // Ranz and Marshall's data end at 200 (see the citation in the table of correlations).
    const text = templateWith([
      '  coverage-factor: 2',
      '  coverage-factor: 2\n  sphere: nusselt_sphere_ranz_marshall_1952',
    ]);
    expect(remarks(text).filter(({ code }) => code === 'reynolds-out-of-range').length).toBeGreaterThan(0);
  });

  test('a flow per hour that was meant per minute', () => {
    const remark = one(templateWith(['120: 120 L/min', '120: 120 L/h']), 'speed-implausible');
    expect(remark).toMatchObject({ severity: 'caution', place: ['flows', '120'] });
    // A true flow of 2 L/min at 0 °C through 16 mm: 0.166 m/s; at 3 bar in a variable-area meter √3 · 0.98 times that.
    // 2 L/min / (π/4 · (16 mm)²) = 0.1658 m/s; × √(rho_cal rho_line)/rho_jet = 0.1658 × 1.790 = 0.297 m/s, with ideal
    // gas densities 1.2929 at 0 °C, 3.5747 at 300.8 kPa and 20 °C, 1.1958 at 100.8 kPa and 20.5 °C.
    expect(remark.message).toMatch(/at 0\.29[78] m\/s/);
    expect(remark.action).toMatch(/as 120 L\/min it would be 17\.[89] m\/s/);
  });

  test('a flow per second that was meant per minute', () => {
    const remark = one(
      templateWith(['120: 120 L/min', '120: 120 L/s'], ['  full-scale: 200 L/min', '  full-scale: 200 L/s']),
      'speed-implausible',
    );
    expect(remark.action).toMatch(/as 120 L\/min it would be 17\.[89] m\/s/);
  });

  test('a reading beyond the scale of the meter', () => {
    expect(one(templateWith(['120: 120 L/min', '120: 240 L/min']), 'flow-over-scale').message).toContain(
      '1.2 times',
    );
  });

  test.each([
    ['a gauge value written as absolute', '0.35 bar(a)', 'caution', '(g)'],
    ['an absolute value written as gauge', '1.008 bar(g)', 'note', '(a)'],
    ['a vacuum', '-0.2 bar(g)', 'caution', '(g)'],
  ])('%s in the meter', (_, written, severity, mend) => {
    const remark = one(templateWith(['2.0 bar(g) +- 0.1 bar', written]), 'gauge-doubtful');
    expect(remark).toMatchObject({ severity, place: ['meter', 'line', 'pressure'] });
    expect(remark.action).toContain(mend);
  });

  test('a supply below the pressure in the meter', () => {
    const remark = one(templateWith(['pressure: 6 bar(g)', 'pressure: 2.5 bar(a)']), 'gauge-doubtful');
    expect(remark.place).toEqual(['supply', 'pressure']);
  });

  test('a mass that does not fit diameter and material', () => {
    // π/6 · (12 mm)³ · 8530 kg/m³ = 7.718 g; 8.5 g is 10 % above.
    const remark = one(templateWith(['mass: 7.71 g', 'mass: 8.50 g']), 'mass-disagrees');
    expect(remark.place).toEqual(['bodies', 'brass-12', 'mass']);
    expect(remark.message).toContain('10.1 %');
  });

  test('a window of the fits that recordings do not reach', () => {
    expect(one(templateWith(['to: 0.1 }', 'to: 0.05 }']), 'window-beyond-end').place).toEqual([
      'protocol',
      'end-fraction',
    ]);
  });

  test('hot air that is cooler than the target', () => {
    expect(one(templateWith(['stream: 180 degC', 'stream: 90 degC']), 'stream-cool').severity).toBe(
      'caution',
    );
  });

  test('a logger whose range ends before the limit', () => {
    // Type T at 140 °C: 6.206 mV (IEC 60584-1 / NIST ITS-90 table), × 200 + 1.3 mV = 1.2425 V.
    const text = templateWith(['from: -10 V, to: 10 V', 'from: -1 V, to: 1 V']);
    expect(one(text, 'logger-range-short').message).toContain('1.24 V');
  });

  test('a pattern of paths that does not name the condition, as a note', () => {
    const text = templateWith(['{group}/{body}_{flow}_{repeat}', '{group}/{flow}_{repeat}']);
    expect(one(text, 'path-unclear')).toMatchObject({ severity: 'note', place: ['recordings'] });
    expect(one(text, 'path-unclear').message).toContain('{body}');
  });

  test('few repeats, as a note', () => {
    expect(one(templateWith(['repeats: 3', 'repeats: 1']), 'repeats-few').severity).toBe('note');
  });

  test('a rig that is not described enough for a prediction, as one note with what to write', () => {
    const found = remarks('bodies: { a: {}, b: {} }\nflows: { x: 60 L/min }');
    const remark = found.find(({ code }) => code === 'rig-incomplete');
    expect(remark?.severity).toBe('note');
    expect(remark?.action).toContain('under bodies › a › diameter');
    expect(remark?.action).toContain('more');
  });

  test('a condition that no physics can be done with', () => {
    const remark = one(templateWith(['target: 95 degC ', 'target: 20.2 degC ']), 'condition-impossible');
    expect(remark).toMatchObject({ severity: 'caution', place: ['protocol', 'target'] });
    expect(remark.conditions).toHaveLength(5);
  });

  test('heat and compressed air have their cautions, where there are any', () => {
    const codes = remarks(experimentTemplate).map(({ code }) => code);
    expect(codes).toContain('heat-safety');
    expect(codes).toContain('air-safety');
    expect(remarks('bodies: { a: {} }').map(({ code }) => code)).toEqual([]);
  });

  test('alike remarks of several conditions are one', () => {
    const codes = remarks(experimentTemplate).map(({ code, place }) => `${code} ${place.join(' ')}`);
    expect(new Set(codes).size).toBe(codes.length);
  });
});
