import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readUncertain } from '../../src/experiment/written.ts';
import { experimentOf, faultsOf, templateWith } from './read.ts';

function bodyDiameter(written: string): { value: number; standardUncertainty: number | null } | undefined {
  return experimentOf(`bodies: { a: { diameter: ${written} } }`).bodies['a']?.diameter;
}

describe('quantities in an experiment file', () => {
  // Factors: NIST SP 811 (2008), Appendix B: 1 in = 25.4 mm, 1 ft³ = 0.028 316 846 592 m³ (exact).
  test.each([
    ['12 mm', 0.012],
    ['0.5 in', 0.0127],
    ['1.2 cm', 0.012],
  ])('a diameter of %s is %f m', (written, metres) => {
    expect(bodyDiameter(written)?.value).toBeCloseTo(metres, 15);
  });

  test.each([
    ['120 L/min', 0.002],
    ['250 ft3/h', (250 * 0.028_316_846_592) / 3600],
    ['7.2 m3/h', 0.002],
  ])('a flow of %s is %f m³/s', (written, flow) => {
    const setting = experimentOf(`flows: { a: ${written} }`).flows['a'];
    expect(setting?.kind === 'metered' && setting.reading.value).toBeCloseTo(flow, 15);
  });

  test('an uncertainty stands behind the value, in its unit, another unit or percent', () => {
    expect(bodyDiameter('12 mm')?.standardUncertainty).toBeNull();
    for (const written of ['12 mm +- 0.02 mm', '12 +- 0.02 mm', '12 mm ± 20 um', '12 mm +/- 0.02 mm']) {
      expect(bodyDiameter(written)?.value).toBeCloseTo(0.012, 15);
      expect(bodyDiameter(written)?.standardUncertainty).toBeCloseTo(2e-5, 15);
    }
    expect(bodyDiameter('20 mm +- 1 %')?.standardUncertainty).toBeCloseTo(2e-4, 15);
  });

  test('the uncertainty of a temperature is a difference: 9 °F are 5 K', () => {
    const { room } = experimentOf('room: { pressure: 100 kPa, temperature: 68 degF +- 9 degF }');
    expect(room?.temperature.value).toBeCloseTo(20, 12);
    expect(room?.temperature.standardUncertainty).toBeCloseTo(5, 12);
  });

  test('the uncertainty of a part in percent is in percent of the whole', () => {
    const { room } = experimentOf('room: { pressure: 100 kPa, temperature: 20 degC, humidity: 50 % +- 5 % }');
    expect(room?.humidity).toEqual({ value: 0.5, standardUncertainty: 0.05 });
  });

  test('every value comes back with its uncertainty, in any unit', () => {
    const units = fc.constantFrom(
      ...([
        ['mm', 1e-3],
        ['cm', 1e-2],
        ['m', 1],
        ['in', 0.0254],
        ['ft', 0.3048],
      ] as const),
    );
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: 1e-6, max: 1, noNaN: true }),
        units,
        units,
        (value, u, [unit, factor], [other, otherFactor]) => {
          const read = readUncertain(`${value} ${unit} +- ${u} ${other}`, 'length');
          if (!read.ok) throw new Error(read.message);
          expect(read.value.value / (value * factor)).toBeCloseTo(1, 12);
          expect((read.value.standardUncertainty ?? 0) / (u * otherFactor)).toBeCloseTo(1, 12);
        },
      ),
      { seed: 1 },
    );
  });

  test.each([
    ['a bare number', 'bodies: { a: { diameter: 12 } }', '"12" has no unit', '12 m'],
    ['a decimal comma', 'bodies: { a: { diameter: "12,5 mm" } }', 'comma', '12.5'],
    ['the wrong kind of unit', 'bodies: { a: { diameter: 12 g } }', 'not a unit of length', 'mm'],
    [
      'a standard volume',
      'flows: { a: 30 scfh }',
      'not a unit of flow',
      'reference pressure and temperature apart',
    ],
    ['an uncertainty below zero', 'bodies: { a: { diameter: 12 mm +- -1 mm } }', 'below 0', 'without a sign'],
    ['two uncertainties', 'bodies: { a: { diameter: 12 mm +- 1 mm +- 1 mm } }', 'once', '+-'],
    ['a diameter of a house', 'bodies: { a: { diameter: 12 m } }', 'not possible', '0.01 mm to 0.5 m'],
    [
      'a pressure at sea level of another world',
      'room: { pressure: 1013 Pa, temperature: 20 degC }',
      'not possible',
      'not reduced to sea level',
    ],
    ['kelvin below zero', 'room: { pressure: 100 kPa, temperature: -1 K }', 'absolute zero', 'sign'],
  ])('%s is refused with its mend', (_, text, problem, mend) => {
    const [fault = '', ...more] = faultsOf(text);
    expect(more).toEqual([]);
    expect(fault).toContain(problem);
    expect(fault).toContain(mend);
  });
});

describe('gauge and absolute pressure', () => {
  const line = (pressure: string) => {
    const { meter } = experimentOf(templateWith(['2.0 bar(g) +- 0.1 bar', pressure]));
    return meter?.line?.pressure;
  };

  test('a line pressure says which it is', () => {
    expect(line('2.5 bar(g)')).toEqual({ pressure: { gaugePressure: 250_000 }, standardUncertainty: null });
    expect(line('2.5 bar(a) +- 0.1 bar')).toEqual({
      pressure: { absolutePressure: 250_000 },
      standardUncertainty: 10_000,
    });
    // 1 psi = 6894.757 Pa (NIST SP 811, rounded to seven figures).
    const psi = line('35 psi(g)')?.pressure;
    expect(psi !== undefined && 'gaugePressure' in psi && psi.gaugePressure / 35).toBeCloseTo(6894.757, 3);
  });

  test.each(['2.5 bar', '35 psi', '2.5 bar +- 0.1 bar'])(
    '%s alone is refused, with both ways to write it',
    (written) => {
      const [fault = ''] = faultsOf(templateWith(['2.0 bar(g) +- 0.1 bar', written]));
      const bare = written.split(' +-')[0] ?? '';
      expect(fault).toContain('gauge or absolute');
      expect(fault).toContain(`${bare}(g)`);
      expect(fault).toContain(`${bare}(a)`);
    },
  );

  test('the pressure of a room or of a scale is never gauge', () => {
    expect(faultsOf(templateWith(['100.8 kPa +- 0.2 kPa', '0 bar(g)']))[0]).toMatch(
      /room › pressure: .*gauge/,
    );
    expect(faultsOf(templateWith(['pressure: 101.325 kPa', 'pressure: 0.0 psi(g)']))[0]).toMatch(
      /meter › reference › pressure: .*gauge/,
    );
  });
});

describe('flow meters', () => {
  test.each(['variable-area', 'thermal-mass'])('a %s meter names what its scale is made for', (kind) => {
    const text = templateWith(
      ['kind: variable-area', `kind: ${kind}`],
      ['  reference: { pressure: 101.325 kPa, temperature: 0 degC }\n', ''],
    );
    expect(faultsOf(text)).toEqual([expect.stringMatching(/meter › reference: is missing/)]);
    const half = templateWith(
      ['kind: variable-area', `kind: ${kind}`],
      ['pressure: 101.325 kPa, temp', 'temp'],
    );
    expect(faultsOf(half)).toEqual([expect.stringMatching(/meter › reference › pressure: is missing/)]);
  });

  test('a mass meter is read in mass, the others in volume', () => {
    const mass = templateWith(
      ['kind: variable-area', 'kind: mass'],
      ['  reference: { pressure: 101.325 kPa, temperature: 0 degC }\n', ''],
      ['full-scale: 200 L/min', 'full-scale: 20 kg/h'],
      ['60: 60 L/min', '60: 1.2 g/s +- 0.01 g/s'],
    );
    expect(faultsOf(mass)).toEqual([expect.stringMatching(/flows › 120: this meter counts mass.*g\/s/)]);
    const { flows, meter } = experimentOf(mass.replace('120: 120 L/min', '120: 9 kg/h +- 1 %'));
    const [slow, quick] = [flows['60'], flows['120']];
    expect(slow?.kind === 'metered' && slow.reading).toEqual({ value: 0.0012, standardUncertainty: 1e-5 });
    expect(quick?.kind === 'metered' && quick.reading.value).toBeCloseTo(0.0025, 12);
    expect(quick?.kind === 'metered' && quick.reading.standardUncertainty).toBeCloseTo(2.5e-5, 12);
    expect(meter?.['full-scale']?.reading.value).toBeCloseTo(20 / 3600, 12);
    expect(faultsOf(templateWith(['60: 60 L/min', '60: 1.2 g/s']))[0]).toContain('this meter counts volume');
  });

  test('an accuracy of full scale needs the full scale', () => {
    expect(faultsOf(templateWith(['  full-scale: 200 L/min\n', '']))[0]).toMatch(
      /meter › accuracy › of-full-scale: give full-scale/,
    );
  });

  test('a kind that is none is answered with those that are', () => {
    const [fault] = faultsOf('meter: { kind: float }');
    expect(fault).toMatch(/^1 meter › kind: .*variable-area, thermal-mass, volumetric or mass/);
  });

  test('a flow is a reading, a speed or still', () => {
    const { flows } = experimentOf('flows: { a: still, b: 4 m/s +- 0.2 m/s, c: 800 ft/min }');
    expect(flows['a']).toEqual({ kind: 'still', written: 'still' });
    expect(flows['b']).toMatchObject({ kind: 'speed', speed: { value: 4, standardUncertainty: 0.2 } });
    // 1 ft/min = 0.005 08 m/s (NIST SP 811).
    expect(flows['c']).toMatchObject({ kind: 'speed', speed: { value: expect.closeTo(4.064, 12) } });
  });
});
