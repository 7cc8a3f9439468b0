import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { build } from 'rolldown';
import { describe, expect, test } from 'vitest';
import { evaluateChain } from '../../src/prediction/chain.ts';
import {
  type PredictionInput,
  type PredictionUncertainties,
  predict,
  predictionParameters,
} from '../../src/prediction/index.ts';
import { parameterRow, placeInRow, setFromRow } from '../../src/prediction/parameter-row.ts';
import { prepareChain } from '../../src/prediction/setup.ts';
import { brassAt, brassInJet, brassInStillAir, jet, thermocouple } from './rig.ts';

const off = (value: number, reference: number) => Math.abs(value / reference - 1);

/** Everything exact but what is named. */
function only(uncertainties: PredictionUncertainties): PredictionUncertainties {
  const exact: PredictionUncertainties = Object.fromEntries(
    predictionParameters.map(({ name }) => [name, 0]),
  );
  return { ...exact, ...uncertainties };
}

/** Convection alone, so that the rate goes exactly with the correlation; the conductivity of silver and more. */
const convectionAlone: PredictionInput = {
  ...brassAt(20),
  body: {
    ...brassInJet.body,
    emissivity: 0,
    material: {
      ...brassInJet.body.material,
      points: [{ temperature: 300, specificHeat: 380, conductivity: 5000 }],
    },
  },
};

describe('the accuracy of the correlation', () => {
  test('±30 % in h is -23 % and +43 % in tau', () => {
    // The probability of ±2 standard uncertainties of a normal distribution.
    const coverage = 0.954_499_736;
    const p = predict(convectionAlone, { uncertainties: only({ nusseltFactor: 0.15 }), coverage });
    const { value, interval, standardUncertainty } = p.timeConstant;
    expect(interval[0] / value - 1).toBeCloseTo(1 / 1.3 - 1, 3);
    expect(interval[1] / value - 1).toBeCloseTo(1 / 0.7 - 1, 3);
    expect(standardUncertainty / value).toBeCloseTo(0.15, 3);
    if (p.monteCarlo === null) throw new Error('no draws');
    expect(off(p.monteCarlo.interval[0], value / 1.3)).toBeLessThan(0.01);
    expect(off(p.monteCarlo.interval[1], value / 0.7)).toBeLessThan(0.02);
    expect(p.monteCarlo.agreement.verdict).toBe('agree');
  });

  test('is taken at the coverage that is stated: k = 1 doubles the band', () => {
    const { nusseltFactor: _, ...rest } = only({});
    const at = (coverageFactor: number) =>
      predict(convectionAlone, {
        correlationAccuracy: { relative: 0.3, coverageFactor },
        uncertainties: rest,
        draws: 0,
      }).timeConstant;
    expect(at(1).standardUncertainty / at(2).standardUncertainty).toBeCloseTo(2, 6);
  });

  test('moves the wires along with the body: a junction on long wires is known no better than they are', () => {
    const junction = { ...brassInJet.body, diameter: 1e-3, wires: thermocouple };
    for (const input of [brassInJet, brassInStillAir]) {
      const { value, standardUncertainty } = predict({ ...input, body: junction }, { draws: 0 }).timeConstant;
      expect(standardUncertainty / value).toBeGreaterThan(0.1);
    }
  });

  test('dominates a usual budget', () => {
    const [first] = predict(brassInJet, { draws: 0 }).budget;
    expect(first?.input).toBe('nusseltFactor');
    expect(first?.share).toBeGreaterThan(0.85);
  });
});

describe('the budget', () => {
  const p = predict({ ...brassInJet, body: { ...brassInJet.body, wires: thermocouple } }, { draws: 0 });

  test('shares add up, largest first, and contributions are |sensitivity| times uncertainty', () => {
    expect(p.budget.reduce((sum, line) => sum + line.share, 0)).toBeCloseTo(1, 10);
    const shares = p.budget.map((line) => line.share);
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
    const squares = p.budget.reduce((sum, line) => sum + line.contribution ** 2, 0);
    expect(Math.sqrt(squares)).toBeCloseTo(p.timeConstant.standardUncertainty, 10);
    for (const line of p.budget) {
      expect(line.contribution).toBeCloseTo(Math.abs(line.sensitivity) * line.standardUncertainty, 10);
    }
  });

  test('sensitivities are those of the time constant, with their sign', () => {
    const { parameters, setup, fraction } = prepareChain({
      ...brassInJet,
      body: { ...brassInJet.body, wires: thermocouple },
    });
    for (const line of p.budget) {
      const parameter = predictionParameters.find(({ name }) => name === line.input);
      if (parameter === undefined) throw new Error(`no parameter ${line.input}`);
      const step = 1e-5 * Math.abs(line.value);
      const at = (sign: 1 | -1) =>
        evaluateChain({ ...parameters, [parameter.name]: line.value + sign * step }, setup, fraction)
          .timeConstant;
      const slope = (at(1) - at(-1)) / (2 * step);
      expect(Math.abs(slope - line.sensitivity) * Math.abs(line.value)).toBeLessThan(
        2e-6 * p.timeConstant.value,
      );
    }
  });

  test('the diameter enters area, volume and Reynolds number at once: exponent 1.45, or -1.55 on a weighed body', () => {
    const mass = (8530 * Math.PI * 0.01 ** 3) / 6;
    const exponent = (input: PredictionInput) => {
      const line = predict(input, { draws: 0 }).budget.find(({ input: name }) => name === 'diameter');
      return ((line?.sensitivity ?? Number.NaN) * 0.01) / predict(input, { draws: 0 }).timeConstant.value;
    };
    const free = exponent(convectionAlone);
    expect(Math.abs(free - 1.45)).toBeLessThan(0.03);
    const weighed = exponent({ ...convectionAlone, body: { ...convectionAlone.body, mass } });
    expect(weighed).toBeCloseTo(free - 3, 4);
    // Taken apart as if independent, volume (3), area (-2) and Nusselt number (0.45) would give 3.6, not 1.45.
    expect(Math.hypot(3, 2, 0.45)).toBeGreaterThan(2 * free);
  });

  test('the room pressure reaches the meter through a gauge, not through an absolute reading', () => {
    const linked = predict(brassInJet, { draws: 0 });
    const apart = predict(
      {
        ...brassInJet,
        flow: {
          ...jet,
          meter: { ...jet.meter, line: { ...jet.meter.line, pressure: { absolutePressure: 150_800 } } },
        },
      },
      { draws: 0 },
    );
    const of = (one: typeof linked) =>
      one.budget.find(({ input }) => input === 'roomPressure')?.sensitivity ?? 0;
    expect(of(linked)).toBeLessThan(-1e-6);
    // At the same mass flow the speed falls as the density rises: rho U is what counts, and it stays.
    expect(Math.abs(of(apart))).toBeLessThan(0.02 * Math.abs(of(linked)));
  });

  test('holds only what the condition uses', () => {
    const names = predict(brassInStillAir, { draws: 0 }).budget.map(({ input }) => input);
    expect(names).not.toContain('meterReading');
    expect(names).not.toContain('speed');
    expect(names).not.toContain('mass');
    expect(names).not.toContain('stemFactor');
    expect(names).toContain('diameter');
  });

  test('every parameter is listed, and set by its own name', () => {
    const { parameters } = prepareChain(brassInJet);
    expect(new Set(predictionParameters.map(({ name }) => name))).toEqual(new Set(Object.keys(parameters)));
    for (const { name } of predictionParameters) {
      const row = parameterRow(parameters);
      row[placeInRow(name)] = -7;
      const varied = { ...parameters };
      setFromRow(row, varied);
      expect(varied).toEqual({ ...parameters, [name]: -7 });
    }
  });
});

describe('first order and Monte Carlo', () => {
  test('agree in a usual case, and the same seed gives the same draws', () => {
    const a = predict(brassInJet, { seed: 7 });
    expect(a.monteCarlo?.agreement.verdict).toBe('agree');
    expect(a.monteCarlo?.draws).toBe(100_000);
    expect(predict(brassInJet, { seed: 7 }).monteCarlo).toEqual(a.monteCarlo);
    expect(predict(brassInJet, { seed: 8 }).monteCarlo?.median).not.toBe(a.monteCarlo?.median);
  });

  test('say when they do not: at the end of the core the decay bends', () => {
    const atTheEnd = {
      ...brassInJet,
      flow: { ...jet, nozzle: { ...jet.nozzle, standOff: 6 * 0.016 } },
    };
    const p = predict(atTheEnd, {
      uncertainties: { decayConstant: 1.5 },
      correlationAccuracy: { relative: 0.02, coverageFactor: 2 },
    });
    expect(p.monteCarlo?.agreement.verdict).toBe('disagree');
    const remark = p.remarks.find((one) => one.code === 'prediction-wide');
    expect(remark?.message).toContain('do not agree');
    expect(remark?.action).toMatch(/Take the interval from the Monte Carlo: [\d.]+ s to [\d.]+ s\./);
  });

  test('a rate that may be zero has no upper end', () => {
    const p = predict(brassInJet, { correlationAccuracy: { relative: 0.9, coverageFactor: 1 }, draws: 0 });
    expect(p.timeConstant.interval[1]).toBe(Number.POSITIVE_INFINITY);
    expect(p.remarks.map((one) => one.code)).toContain('prediction-wide');
  });

  test('100 000 draws of one prediction take less than 0.2 s', async () => {
    // Bundled and in a process of its own, as it is shipped: the test runner slows calls between modules. Processor
    // time, for what else the machine does meanwhile is not ours.
    const input = fileURLToPath(new URL('draw-timing.ts', import.meta.url));
    const { output } = await build({ input, platform: 'node', write: false, logLevel: 'silent' });
    const least = execFileSync(process.execPath, ['--input-type=module'], {
      input: output[0].code,
      encoding: 'utf8',
    });
    expect(Number(least)).toBeGreaterThan(0);
    expect(Number(least)).toBeLessThan(0.2);
  });
});

test('without any uncertainty the interval is the value', () => {
  const p = predict(brassInJet, { uncertainties: only({}) });
  expect(p.timeConstant.standardUncertainty).toBe(0);
  expect(off(p.timeConstant.interval[0], p.timeConstant.value)).toBeLessThan(1e-14);
  expect(p.monteCarlo).toBeNull();
});

describe('uncertainties and options that cannot be used are refused by name', () => {
  test.each([
    [{ uncertainties: { diameter: -1 } }, /standard uncertainty of diameter is -1: .* in m/],
    [{ uncertainties: { emissivity: Number.NaN } }, /emissivity is NaN/],
    [
      { correlationAccuracy: { relative: 30, coverageFactor: 2 } },
      /accuracy of the correlation is 30 at k = 2/,
    ],
    [{ correlationAccuracy: { relative: 0.3, coverageFactor: 0 } }, /at k = 0/],
    [{ coverage: 95 }, /coverage is 95/],
    [{ draws: 10 }, /draws is 10/],
  ] as const)('%o', (options, words) => {
    expect(() => predict(brassInJet, options)).toThrow(words);
    expect(() => predict(brassInJet, options)).toThrow(RangeError);
  });
});
