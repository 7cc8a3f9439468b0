import { describe, expect, test } from 'vitest';
import { conditionsOf, predictionFor } from '../../src/experiment/index.ts';
import { findMaterial, predictTimeConstant } from '../../src/prediction/index.ts';
import { experimentOf, templateWith } from './read.ts';

const condition = { body: 'brass-12', flow: '120' };

function asked(text: string, wanted = condition) {
  const prediction = predictionFor(experimentOf(text), wanted);
  if (!prediction.ok) throw new Error(prediction.missing.map(({ message }) => message).join('; '));
  return prediction;
}

describe('conditions', () => {
  test('are all of body and flow, but for those left out', () => {
    const text = templateWith(
      ['{ body: brass-12, flow: 60, why: takes', '{ flow: 60, why: takes'],
      ['conditions:\n  left-out:\n', 'conditions:\n  left-out:\n    - { body: aluminium-8, why: lost }\n'],
    );
    const { measured, leftOut } = conditionsOf(experimentOf(text));
    expect(measured).toEqual([
      { body: 'brass-12', flow: '120' },
      { body: 'aluminium-12', flow: '120' },
    ]);
    expect(leftOut).toContainEqual({ body: 'aluminium-8', flow: '120', why: 'lost' });
    expect(leftOut).toHaveLength(4);
  });
});

describe('the prediction that a file asks for', () => {
  test('is in SI and kelvin, with gauge and absolute kept apart', () => {
    const { input, correlationAccuracy } = asked(templateWith());
    // By hand from the text of the example: 0 °C = 273.15 K, 1 L/min = 1e-3/60 m³/s.
    expect(input.room).toEqual({ pressure: 100_800, temperature: 294.15, relativeHumidity: 0.45 });
    expect(input.flow).toMatchObject({
      kind: 'jet',
      temperature: 293.65,
      relativeHumidity: 0,
      meter: {
        kind: 'variable-area',
        reference: { pressure: 101_325, temperature: 273.15 },
        line: { pressure: { gaugePressure: 200_000 }, temperature: 293.15 },
      },
      nozzle: { diameter: 0.016, standOff: 0.012, profileFactor: 1, decayConstant: 6 },
    });
    expect(input.flow.kind === 'jet' && input.flow.meter.reading).toBeCloseTo(0.002, 12);
    expect(input.body).toMatchObject({ shape: 'sphere', material: findMaterial('brass') });
    expect(input.body.diameter).toBeCloseTo(0.012, 12);
    expect(input.body.mass).toBeCloseTo(0.00771, 12);
    expect(input.body.wires).toHaveLength(2);
    expect(input.cooling).toEqual({ start: 368.15, window: { from: 0.9, to: 0.1 } });
    expect(correlationAccuracy).toEqual({ relative: 0.3, coverageFactor: 2 });
    expect(predictTimeConstant(input).timeConstant).toBeGreaterThan(0);
  });

  test('carries the uncertainties that stand in the file, and no others', () => {
    const { uncertainties } = asked(templateWith());
    expect(uncertainties.diameter).toBeCloseTo(2e-5, 12);
    expect(uncertainties.mass).toBeCloseTo(1e-5, 12);
    expect(uncertainties.roomPressure).toBeCloseTo(200, 9);
    expect(uncertainties.airTemperature).toBeCloseTo(1, 12);
    expect(uncertainties.linePressure).toBeCloseTo(1e4, 6);
    expect(uncertainties.profileFactor).toBeCloseTo(0.03, 12);
    // 2 % of 200 L/min as the half-width of an even distribution (JCGM 100:2008, 4.3.7).
    expect(uncertainties.meterReading).toBeCloseTo((0.02 * 0.2) / 60 / Math.sqrt(3), 12);
    expect(Object.keys(uncertainties)).not.toContain('density');
    expect(Object.keys(uncertainties)).not.toContain('decayConstant');
  });

  test('takes own materials with their uncertainties, an emissivity, a target of the body', () => {
    const { input, uncertainties } = asked(
      templateWith(
        [
          '    material: brass\n',
          '    material: { name: bronze, density: 8.8 g/cm3 +- 1 %, specific-heat: 377 J/(kg K), conductivity: 60 W/(m K) +- 5 W/(m K) }\n    target: 80 degC\n',
        ],
        ['surface: brass-dull ', 'emissivity: 0.3 +- 0.05 '],
      ),
    );
    expect(input.body.material).toMatchObject({ name: 'bronze', density: 8800 });
    expect(input.body.emissivity).toBe(0.3);
    expect(input.cooling.start).toBeCloseTo(353.15, 9);
    expect(uncertainties.density).toBeCloseTo(88, 9);
    expect(uncertainties.conductivity).toBeCloseTo(5, 12);
    expect(uncertainties.specificHeat).toBeUndefined();
    expect(uncertainties.emissivity).toBe(0.05);
  });

  test.each([
    ['brass-dull', 0.22],
    // The middle of 0.2 to 0.33.
    ['aluminium-heavily-oxidised', 0.265],
  ])('takes %s for an emissivity of %f, with the uncertainty that is typical', (surface, emissivity) => {
    const { input, uncertainties } = asked(templateWith(['surface: brass-dull', `surface: ${surface}`]));
    expect(input.body.emissivity).toBeCloseTo(emissivity, 12);
    expect(uncertainties.emissivity).toBeUndefined();
  });

  test('takes bare metal for a surface of which nothing is said', () => {
    const { input, uncertainties } = asked(templateWith(['    surface: brass-dull ', '    # no surface ']));
    // Handbook values run from 0.03 (polished) to 0.5 (oxidised): both lie within three standard uncertainties.
    const u = uncertainties.emissivity ?? 0;
    expect(input.body.emissivity - 3 * u).toBeLessThan(0.03);
    expect(input.body.emissivity + 3 * u).toBeGreaterThanOrEqual(0.5 - 1e-9);
  });

  test('is for a wire where the junction is one, for a sphere where it is a bead', () => {
    const bodies = (shape: string) =>
      templateWith([
        'bodies:\n',
        `bodies:\n  bare: { shape: ${shape}, diameter: 0.8 mm, material: constantan }\n`,
      ]);
    expect(asked(bodies('wire'), { body: 'bare', flow: '120' }).input.body.shape).toBe('wire');
    expect(asked(bodies('bead'), { body: 'bare', flow: '120' }).input.body.shape).toBe('sphere');
  });

  test('knows still air and air of a measured speed, which need no meter', () => {
    const text = templateWith(['  60: 60 L/min', '  60: 60 L/min\n  calm: still\n  fan: 3 m/s +- 0.1 m/s']);
    expect(asked(text, { body: 'brass-12', flow: 'calm' }).input.flow).toEqual({ kind: 'still' });
    const fan = asked(text, { body: 'brass-12', flow: 'fan' });
    expect(fan.input.flow).toEqual({ kind: 'speed', speed: 3, temperature: 293.65, relativeHumidity: 0 });
    expect(fan.uncertainties.speed).toBeCloseTo(0.1, 12);
    expect(fan.uncertainties.meterReading).toBeUndefined();
  });

  test('says what the file lacks, and where it belongs', () => {
    const experiment = experimentOf('bodies: { a: {} }\nflows: { x: 60 L/min }');
    const prediction = predictionFor(experiment, { body: 'a', flow: 'x' });
    expect(prediction.ok).toBe(false);
    const places = prediction.ok ? [] : prediction.missing.map(({ place }) => place.join(' › '));
    expect(places).toEqual([
      'bodies › a › diameter',
      'bodies › a › material',
      'protocol › target',
      'room',
      'supply',
      'meter',
      'nozzle',
    ]);
  });

  test('is not made for codes that the file does not have, not even inherited words', () => {
    const experiment = experimentOf(templateWith());
    for (const body of ['toString', 'constructor', 'brass']) {
      expect(predictionFor(experiment, { body, flow: '120' }).ok).toBe(false);
    }
  });
});
