import { describe, expect, it } from 'vitest';
import { curveProblem, fitNonlinear, type LeastSquaresProblem } from '../../src/statistics/index.ts';
import { column, json } from '../reference/tables.ts';

interface Certified {
  starts: [number[], number[]];
  parameters: number[];
  standardErrors: number[];
  residualSd: number;
  residualSumOfSquares: number;
}

const { sets } = json<{ sets: Record<string, Certified> }>('nist-strd/nonlinear.json');

type Model = (x: number, b: readonly number[]) => number;
const { exp, atan, PI } = Math;

/** Takes the parameters out of their list: the models below are written as NIST prints them. */
const of =
  (model: (x: number, ...b: number[]) => number): Model =>
  (x, b) =>
    model(x, ...b);

const threeExponentials = of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0) => {
  return b1 * exp(-b2 * x) + b3 * exp(-b4 * x) + b5 * exp(-b6 * x);
});
const cubicRatio = of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0, b7 = 0) => {
  return (b1 + b2 * x + b3 * x ** 2 + b4 * x ** 3) / (1 + b5 * x + b6 * x ** 2 + b7 * x ** 3);
});
const saturation = of((x, b1 = 0, b2 = 0) => b1 * (1 - exp(-b2 * x)));
const chwirut = of((x, b1 = 0, b2 = 0, b3 = 0) => exp(-b1 * x) / (b2 + b3 * x));

const models: Record<string, Model> = {
  Misra1a: saturation,
  Misra1b: of((x, b1 = 0, b2 = 0) => b1 * (1 - (1 + (b2 * x) / 2) ** -2)),
  BoxBOD: saturation,
  Chwirut1: chwirut,
  Chwirut2: chwirut,
  Lanczos1: threeExponentials,
  Lanczos2: threeExponentials,
  Lanczos3: threeExponentials,
  MGH09: of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0) => (b1 * (x ** 2 + x * b2)) / (x ** 2 + x * b3 + b4)),
  MGH10: of((x, b1 = 0, b2 = 0, b3 = 0) => b1 * exp(b2 / (x + b3))),
  MGH17: of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0) => b1 + b2 * exp(-x * b4) + b3 * exp(-x * b5)),
  DanWood: of((x, b1 = 0, b2 = 0) => b1 * x ** b2),
  Hahn1: cubicRatio,
  Rat42: of((x, b1 = 0, b2 = 0, b3 = 0) => b1 / (1 + exp(b2 - b3 * x))),
  Rat43: of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0) => b1 / (1 + exp(b2 - b3 * x)) ** (1 / b4)),
  Thurber: cubicRatio,
  Gauss1: of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0, b7 = 0, b8 = 0) => {
    return b1 * exp(-b2 * x) + b3 * exp(-((x - b4) ** 2) / b5 ** 2) + b6 * exp(-((x - b7) ** 2) / b8 ** 2);
  }),
  Bennett5: of((x, b1 = 0, b2 = 0, b3 = 0) => b1 * (b2 + x) ** (-1 / b3)),
  Roszman1: of((x, b1 = 0, b2 = 0, b3 = 0, b4 = 0) => b1 - b2 * x - atan(b3 / (x - b4)) / PI),
};

function worst(found: readonly number[], wanted: readonly number[]): number {
  return Math.max(...wanted.map((value, i) => Math.abs((found[i] ?? Number.NaN) / value - 1)));
}

function problemOf(name: string): LeastSquaresProblem {
  const model = models[name];
  if (model === undefined) throw new Error(`no model for ${name}`);
  const file = `nist-strd/${name.toLowerCase()}.csv`;
  return curveProblem(model, column(file, 'x'), column(file, 'y'));
}

describe('nonlinear least squares on the NIST reference sets', () => {
  const cases = Object.entries(sets).flatMap(([name, set]) =>
    set.starts.map((start, i) => ({ name, number: i + 1, start, set })),
  );

  it('covers all sets from both starting points', () => expect(cases.length).toBe(38));

  // NIST StRD: at least 7 digits everywhere.
  it.each(cases)('$name from start $number', ({ name, start, set }) => {
    const fit = fitNonlinear(problemOf(name), start);
    if (!fit.converged) throw new Error(fit.reason);
    expect(worst(fit.parameters, set.parameters)).toBeLessThan(1e-7);
    // The residuals of Lanczos1 are the rounding of its 14-digit data: no double-precision fit can resolve them.
    if (name === 'Lanczos1') {
      expect(fit.residualSd).toBeLessThan(1e-12);
      return;
    }
    expect(worst(fit.standardErrors, set.standardErrors)).toBeLessThan(3e-7);
    expect(Math.abs(fit.residualSd / set.residualSd - 1)).toBeLessThan(1e-9);
  });

  it.each(['Misra1a', 'BoxBOD'])('%s with given derivatives, from both starting points', (name) => {
    const file = `nist-strd/${name.toLowerCase()}.csv`;
    const x = column(file, 'x');
    const problem: LeastSquaresProblem = {
      ...problemOf(name),
      jacobian([b1 = 0, b2 = 0], [first, second]) {
        for (const [i, at] of x.entries()) {
          if (first !== undefined) first[i] = Math.expm1(-b2 * at);
          if (second !== undefined) second[i] = -b1 * at * exp(-b2 * at);
        }
      },
    };
    const set = sets[name];
    if (set === undefined) throw new Error(name);
    for (const start of set.starts) {
      const fit = fitNonlinear(problem, start);
      if (!fit.converged) throw new Error(fit.reason);
      expect(worst(fit.parameters, set.parameters)).toBeLessThan(1e-8);
      expect(worst(fit.standardErrors, set.standardErrors)).toBeLessThan(1e-8);
    }
  });
});

describe('nonlinear least squares that cannot be done', () => {
  const x = [0, 1, 2, 3, 4];
  const reasonOf = (model: Model, y: number[], start: number[]) => {
    const fit = fitNonlinear(curveProblem(model, x, y), start, { iterations: 100 });
    return fit.converged ? 'converged' : fit.reason;
  };

  it('says why', () => {
    expect(reasonOf((t, [a = 0]) => a / (t - t), [1, 2, 3, 4, 5], [1])).toContain('no finite value');
    expect(reasonOf((_, [a = 0, b = 0]) => a + b, [1, 2, 3, 4, 5], [1, 1])).toContain(
      'tell the parameters apart',
    );
    expect(reasonOf((_, [a = 0]) => a, [1, 2, 3, 4, 5], [1, 1])).toContain('parameter 2');
    expect(
      reasonOf(
        of((_, ...b) => b.reduce((sum, value) => sum + value, 0)),
        [1, 2, 3, 4, 5],
        [1, 1, 1, 1, 1, 1],
      ),
    ).toContain('fewer readings than parameters');
    // A straight line has no best exponential: it flattens without end, or ends by saying that it did not settle.
    expect(reasonOf((t, [a = 0, b = 0]) => a * (exp(b * t) - 1), [0, 0, 0, 0, 0], [1, 1])).not.toBe('');
  });

  it('ends after the iterations it was given', () => {
    const fit = fitNonlinear(problemOf('MGH10'), sets['MGH10']?.starts[0] ?? [], { iterations: 5 });
    expect(fit).toMatchObject({ converged: false, iterations: 5 });
    expect(fit.converged ? '' : fit.reason).toContain('5 iterations');
  });
});
