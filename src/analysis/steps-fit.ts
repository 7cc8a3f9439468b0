import type { Decay, DecayFit, TimeConstant } from '../decay/index.ts';
import { coverageFactor, formatWithUncertainty } from '../quantity/index.ts';
import type { Trace } from '../sensing/index.ts';
import { commonPractice, decimals, figures, formula, type StepQuoting } from './steps-formula.ts';
import type { WrittenFormula, WrittenStep } from './steps-types.ts';
import { grouped } from './words.ts';

/** The exponential that is fitted, what is made smallest, and what comes out. */
export function fitStep(fit: DecayFit): WrittenStep {
  const { weightVariance, ambientPrecision, driftPrecision, window, ambientPull } = fit.geometry;
  const tied = ambientPrecision > 0;
  const source =
    'least squares with what is known beforehand; variable projection: Golub & Pereyra, SIAM J. Numer. Anal. 10 (1973) 413';
  const blockWidth = fit.noise.blockWidth;
  return {
    id: 'fit',
    title: 'The exponential fit',
    text: [
      `The cooling is cut into ${grouped(fit.time.length)} blocks of ${figures(blockWidth, 3)} s, whole periods of the mains where that is possible; T_i is the mean of a block at t_i.`,
      'The start is left free, so no single reading decides. The ambient is tied to what the baseline says, as firmly as that is known, and may drift.',
    ],
    formulas: [
      formula(
        'T(t) = a + c\\,(t - t_b) + B\\,e^{-(t - t_s)/\\tau}',
        'T(t) = a + c (t − t_b) + B exp(−(t − t_s)/τ)',
        {},
        source,
      ),
      tied
        ? formula(
            '\\sum_i \\frac{(T_i - T(t_i))^2}{L} + \\frac{(a - T_\\infty)^2}{u^2(T_\\infty)} + \\frac{c^2}{u^2(c)} \\rightarrow \\text{smallest}',
            'Σ (T_i − T(t_i))²/L + (a − T∞)²/u²(T∞) + c²/u²(c) is made as small as possible',
            {},
            source,
          )
        : formula(
            '\\sum_i \\frac{(T_i - T(t_i))^2}{L} + \\frac{c^2}{u^2(c)} \\rightarrow \\text{smallest}',
            'Σ (T_i − T(t_i))²/L + c²/u²(c) is made as small as possible; a is free',
            {},
            source,
          ),
    ],
    table: {
      columns: ['what', 'value'],
      rows: [
        ['t_s, first block', `${decimals(fit.start, 3)} s`],
        ['t_b, where the drift is zero', `${decimals(fit.driftOrigin, 3)} s`],
        ['L, long-run variance of a block', `${figures(weightVariance, 4)} K²`],
        ...(tied
          ? [
              ['T∞, put in', `${decimals(fit.ambient + ambientPull, 4)} °C`],
              ['u(T∞)', `${figures(1 / Math.sqrt(ambientPrecision), 4)} K`],
            ]
          : []),
        ['u(c)', `${figures(1 / (Math.sqrt(driftPrecision) * window), 4)} K/s`],
        ['a', `${decimals(fit.ambient, 4)} °C`],
        ['B', `${decimals(fit.amplitude, 4)} K`],
        ['c', `${figures(fit.drift, 4)} K/s`],
        ['τ', `${decimals(fit.timeConstant, 4)} s`],
      ],
    },
    result: `τ = ${decimals(fit.timeConstant, 4)} s.`,
    source: null,
  };
}

/** How the noise of neighbouring readings hangs together, and how many independent ones they are worth. */
export function noiseStep(decay: Decay, trace: Trace): WrittenStep | null {
  const { noise, independentReadings: worth, fit } = decay;
  if (noise === null || worth === null || fit === null) return null;
  const { white, correlated, correlationTime } = noise;
  const { samplePeriod } = trace;
  const scatter = white ** 2 + correlated ** 2;
  const density = 2 * correlated ** 2 * correlationTime + white ** 2 * samplePeriod;
  const source =
    'effective number of readings: Bayley & Hammersley, J. R. Stat. Soc. Suppl. 8 (1946) 184, for an exponential correlation';
  const formulas: WrittenFormula[] = [];
  if (density > 0) {
    const recorded = (worth * density) / scatter;
    formulas.push(
      formula(
        'S = 2\\,s_c^2\\,t_c + s_w^2\\,\\Delta t = 2\\cdot(<sc>\\ \\mathrm{K})^2\\cdot <tc>\\ \\mathrm{s} + (<sw>\\ \\mathrm{K})^2\\cdot <dt>\\ \\mathrm{s} = <S>\\ \\mathrm{K}^2\\,\\mathrm{s}',
        'S = 2 s_c² t_c + s_w² Δt = 2 · (<sc> K)² · <tc> s + (<sw> K)² · <dt> s = <S> K² s',
        {
          sc: figures(correlated, 5),
          tc: figures(correlationTime, 5),
          sw: figures(white, 5),
          dt: figures(samplePeriod, 5),
          S: figures(density, 4),
        },
        source,
      ),
      formula(
        'N = \\frac{t\\,(s_c^2 + s_w^2)}{S} = \\frac{<T>\\ \\mathrm{s}\\cdot <v>\\ \\mathrm{K}^2}{<S>\\ \\mathrm{K}^2\\,\\mathrm{s}} = <N>',
        'N = t (s_c² + s_w²)/S = <T> s · <v> K²/<S> K² s = <N>',
        {
          T: figures(recorded, 5),
          v: figures(scatter, 5),
          S: figures(density, 4),
          N: figures(worth, 3),
        },
        source,
      ),
    );
  }
  return {
    id: 'noise',
    title: 'What the readings are worth',
    text: [
      `A single reading scatters by ${figures(noise.deviation, 2)} K: ${figures(white, 2)} K without memory, ${figures(correlated, 2)} K that lasts ${figures(correlationTime, 2)} s.`,
      `For the uncertainty of the fit the residuals of the blocks are described as an ARMA(1,1) process, φ = ${figures(fit.noise.phi, 3)}, θ = ${figures(fit.noise.theta, 3)}, found by restricted maximum likelihood from the ${fit.noiseSource}; its correlation time is ${figures(fit.noise.correlationTime, 2)} s.`,
    ],
    formulas,
    table: null,
    result: `The readings of the cooling are worth about ${figures(worth, 2)} independent ones.`,
    source: null,
  };
}

/** What each source adds, put together, and the expanded uncertainty. */
export function budgetStep(decay: Decay, timeConstant: TimeConstant, quoting: StepQuoting): WrittenStep {
  const { value, standardUncertainty, interval, coverage, degreesOfFreedom } = timeConstant;
  const k = coverageFactor(degreesOfFreedom, coverage);
  const percent = String(Math.round(1000 * coverage) / 10);
  const half = (interval[1] - interval[0]) / 2;
  const parts = decay.budget
    .filter(({ contribution }) => contribution > 0)
    .map(({ contribution }) => figures(contribution, 4));
  const shown = { u: figures(standardUncertainty, 4), k: figures(k, 4), tau: decimals(value, 4) };
  return {
    id: 'budget',
    title: 'The uncertainty',
    text: [
      'Every source is carried to the time constant; independent sources add by their squares.',
      `The interval is symmetric in ln τ, so that it cannot reach below zero; U is half of its width. Degrees of freedom by Welch and Satterthwaite: ${Number.isFinite(degreesOfFreedom) ? figures(degreesOfFreedom, 3) : 'very many'}.`,
    ],
    formulas: [
      formula(
        `u^2(\\tau) = \\sum_i u_i^2 = (${parts.map((_, i) => `<p${i}>^2`).join(' + ')})\\ \\mathrm{s}^2 = (<u>\\ \\mathrm{s})^2`,
        `u²(τ) = Σ u_i² = (${parts.map((_, i) => `<p${i}>²`).join(' + ')}) s² = (<u> s)²`,
        { ...shown, ...Object.fromEntries(parts.map((part, i) => [`p${i}`, part])) },
        'JCGM 100:2008, equation 10',
      ),
      formula(
        'k = t_{(1+p)/2}(\\nu) = <k>\\quad (p = <p>\\,\\%)',
        'k = t((1 + p)/2, ν) = <k>, p = <p> %',
        { ...shown, p: percent },
        'JCGM 100:2008, G.3.2 and G.2b',
      ),
      formula(
        '\\tau\\,e^{\\pm k\\,u/\\tau} = <low>\\ \\mathrm{s} \\ldots <high>\\ \\mathrm{s},\\quad U \\approx k\\,u = <k>\\cdot <u>\\ \\mathrm{s} = <U>\\ \\mathrm{s}',
        'τ exp(±k u/τ) = <low> s to <high> s; U ≈ k u = <k> · <u> s = <U> s',
        {
          ...shown,
          low: decimals(interval[0], 4),
          high: decimals(interval[1], 4),
          U: figures(k * standardUncertainty, 4),
        },
        'JCGM 100:2008, 6.2.1, on the scale of ln τ',
      ),
    ],
    table: {
      columns: ['source', 'u_i / s', 'share of u² / %'],
      rows: decay.budget.map(({ label, contribution, share }) => [
        label,
        figures(contribution, 4),
        decimals(100 * share, 1),
      ]),
    },
    result: `τ = ${formatWithUncertainty(value, half, { ...quoting, unit: 's', minus: 'true' }).text}, coverage ${percent} %.`,
    source: null,
  };
}

const testWords: Readonly<Record<string, string>> = {
  curvature: 'curvature of the residuals',
  'second-exponential': 'a second exponential',
  'back-extrapolation': 'fit carried back to the heat going off',
  'early-against-late': 'early part against late part',
  'ratio-90-to-50': 'time to 90 % over time to 50 %',
};

/** Whether one exponential is enough. */
export function adequacyStep(decay: Decay): WrittenStep | null {
  const { adequacy, fingerprint } = decay;
  if (adequacy === null) return null;
  const ratio = adequacy.ratio90to50;
  const source = 'score tests on the whitened residuals; the ratio follows from the exponential itself';
  return {
    id: 'adequacy',
    title: 'Is it one exponential',
    text: [
      'Each test asks for one kind of departure, in units of its standard uncertainty. One exponential stays below the limits.',
      ...(fingerprint === null ? [] : [fingerprint.sentence]),
    ],
    formulas:
      ratio === null
        ? []
        : [
            formula(
              '\\frac{t_{90}}{t_{50}} = <r>,\\quad \\text{one exponential: } \\frac{\\ln 10}{\\ln 2} = <e>',
              't90/t50 = <r>; one exponential: ln 10/ln 2 = <e>; standard uncertainty <u>',
              {
                r: figures(ratio.value, 4),
                e: figures(ratio.expected, 4),
                u: figures(ratio.standardUncertainty, 2),
              },
              commonPractice,
            ),
          ],
    table:
      adequacy.tests.length === 0
        ? null
        : {
            columns: ['test', 'found', 'limit', 'departs'],
            rows: adequacy.tests.map(({ name, statistic, limit, fails }) => [
              testWords[name] ?? name,
              decimals(statistic, 2),
              decimals(limit, 2),
              fails ? 'yes' : 'no',
            ]),
          },
    result: adequacy.sentence,
    source,
  };
}
