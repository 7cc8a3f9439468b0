import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { analyzeFile } from '../../src/analysis/analyze-file.ts';
import { sensorSettings } from '../../src/analysis/sensor.ts';
import { experimentDecaySettings } from '../../src/analysis/settings.ts';
import { workedSteps } from '../../src/analysis/steps.ts';
import { readExperiment } from '../../src/store/index.ts';

const folder = join(import.meta.dirname, '../../demo/thornwick');
const path = 'recordings/A/A1/brass-12_120-1.txt';
const condition = { body: 'brass-12', flow: '120' };

async function worked() {
  const experiment = await readExperiment(folder);
  const settings = experimentDecaySettings(experiment, condition.body);
  const request = { chain: sensorSettings(experiment), settings, zero: null };
  const analyzed = await analyzeFile(join(folder, path), { ...request, read: {} });
  const { steps } = await workedSteps({ path, analyzed, request, experiment, condition });
  return { steps, decay: analyzed.decay };
}

const whole = worked();

async function step(id: string) {
  const found = (await whole).steps.find((one) => one.id === id);
  if (found === undefined) throw new Error(`there is no step ${id}`);
  return found;
}

function number(text: string | undefined): number {
  return Number((text ?? '').replace('−', '-'));
}

async function sumsOf(id: string) {
  const values = ((await step(id)).table?.rows ?? []).map(([, value]) => number(value));
  const [n = 0, x = 0, xx = 0, y = 0, xy = 0, yy = 0] = values;
  return { n, x, xx, y, xy, yy };
}

async function classroom(method: string) {
  return (await whole).decay.estimates.find((one) => one.method === method)?.classroom;
}

// Textbook formulas of ordinary least squares (for example JCGM 100:2008, H.3.2), written out anew.
describe('sums of the regressions, done again by hand', () => {
  it('give the classroom value and its printed error through the origin', async () => {
    const { n, xx, xy, yy } = await sumsOf('regression-origin');
    const tau = -xx / xy;
    const error = tau ** 2 * Math.sqrt((yy - xy ** 2 / xx) / (n - 1) / xx);
    const taught = await classroom('log-linear-origin');
    // Twelve printed figures leave nine in tau, and five in a residual that is 1e-5 of its terms.
    expect(tau / (taught?.value ?? 0)).toBeCloseTo(1, 9);
    expect(error / (taught?.standardError ?? 0)).toBeCloseTo(1, 4);
  });

  it('give them with an intercept', async () => {
    const { n, x, xx, y, xy, yy } = await sumsOf('regression-intercept');
    const [sxx, sxy, syy] = [xx - (x * x) / n, xy - (x * y) / n, yy - (y * y) / n];
    const tau = -sxx / sxy;
    const error = tau ** 2 * Math.sqrt((syy - sxy ** 2 / sxx) / (n - 2) / sxx);
    const taught = await classroom('log-linear-intercept');
    expect(tau / (taught?.value ?? 0)).toBeCloseTo(1, 8);
    expect(error / (taught?.standardError ?? 0)).toBeCloseTo(1, 4);
  });
});

describe('the error fraction', () => {
  it('follows from the temperatures that are printed beside it', async () => {
    const { formulas, table } = await step('error-fraction');
    const printed = /= ([\d.]+) °C − ([\d.]+) °C = ([\d.]+) K/.exec(formulas[1]?.plain ?? '');
    const [hot, ambient, difference] = (printed ?? []).slice(1).map(Number);
    // Each of the three is rounded to 1e-4 K.
    expect(Math.abs((hot ?? 0) - (ambient ?? 0) - (difference ?? 0))).toBeLessThan(1.6e-4);
    expect(table?.rows.length).toBeGreaterThan(5);
    for (const [, temperature, fraction, logarithm] of table?.rows ?? []) {
      const again = (number(temperature) - (ambient ?? 0)) / (difference ?? 1);
      expect(Math.abs(again - number(fraction))).toBeLessThan(1e-5);
      expect(Math.abs(Math.log(again) - number(logarithm))).toBeLessThan(3e-5);
    }
  });

  it('is 1/e of the step at the 36.8 % point, whose time is the classroom value', async () => {
    const { formulas } = await step('point');
    const taught = await classroom('point-36.8');
    const [, ambient, difference, level] =
      /= ([\d.]+) °C \+ ([\d.]+) K\/2.71828 = ([\d.]+) °C/.exec(formulas[0]?.plain ?? '') ?? [];
    expect(number(ambient) + number(difference) / Math.E).toBeCloseTo(number(level), 3);
    const [, crossing, start] = /= ([\d.]+) s − ([\d.]+) s = /.exec(formulas[1]?.plain ?? '') ?? [];
    expect(Math.abs(number(crossing) - number(start) - (taught?.value ?? 0))).toBeLessThan(1.1e-4);
  });
});

describe('the uncertainty', () => {
  // JCGM 100:2008, equation 10 and 6.2.1.
  it('is the root of the printed squares, and its shares are those squares', async () => {
    const { table } = await step('budget');
    const { decay } = await whole;
    const parts = (table?.rows ?? []).map((row) => number(row[1]));
    const variance = parts.reduce((sum, u) => sum + u * u, 0);
    expect(Math.sqrt(variance) / (decay.timeConstant?.standardUncertainty ?? 0)).toBeCloseTo(1, 3);
    for (const [i, row] of (table?.rows ?? []).entries()) {
      expect(Math.abs(number(row[2]) - (100 * (parts[i] ?? 0) ** 2) / variance)).toBeLessThan(0.15);
    }
  });
});

describe('the prediction', () => {
  // Re = rho v D/mu and the law of Whitaker, AIChE J. 18 (1972) 361, Eq. 41, from the printed numbers.
  it('goes from the printed air to Re and to Nu', async () => {
    const air = (await step('air')).formulas.at(-1)?.plain ?? '';
    const [, density, speed, diameter, viscosity, reynolds] =
      /= ([\d.]+) kg\/m³ · ([\d.]+) m\/s · ([\d.]+) mm\/([\d.]+) µPa·s × 1000 = ([\d.]+)/.exec(air) ?? [];
    const again = (number(density) * number(speed) * number(diameter) * 1000) / number(viscosity);
    expect(again / number(reynolds)).toBeCloseTo(1, 3);
    const law = (await step('heat-transfer')).formulas[0]?.plain ?? '';
    const [, nusselt, re, pr, ratio] =
      /= ([\d.]+), with Re = ([\d.]+), Pr = ([\d.]+), μ\/μ_s = ([\d.]+)/.exec(law) ?? [];
    const whitaker =
      2 +
      (0.4 * number(re) ** 0.5 + 0.06 * number(re) ** (2 / 3)) * number(pr) ** 0.4 * number(ratio) ** 0.25;
    expect(whitaker / number(nusselt)).toBeCloseTo(1, 3);
  });
});

describe('formulas', () => {
  it('are well-formed MathML without styles, with nothing left open, each with its source', async () => {
    for (const { formulas } of (await whole).steps) {
      for (const { mathml, plain, source } of formulas) {
        expect(mathml).toMatch(/^<math xmlns="http:\/\/www\.w3\.org\/1998\/Math\/MathML"[^>]*>.*<\/math>$/s);
        expect(mathml).not.toMatch(/\s(?:style|class)=|<script|unknown/);
        expect(openTags(mathml)).toEqual([]);
        expect(plain).not.toMatch(/unknown|NaN|<\w+>/);
        expect(source).not.toBe('');
      }
    }
  });
});

/** Elements that are opened and not closed, or closed in another order. */
function openTags(markup: string): string[] {
  const open: string[] = [];
  for (const [, close, name = '', own] of markup.matchAll(/<(\/?)([a-z]+)[^>]*?(\/?)>/g)) {
    if (own === '/') continue;
    if (close === '') open.push(name);
    else if (open.pop() !== name) return [...open, name];
  }
  return open;
}
