import type { Decay, DecaySettings, EstimateMethod, RegressionSums, TaughtWorking } from '../decay/index.ts';
import { formatWithUncertainty } from '../quantity/index.ts';
import type { Blocks } from '../recording/index.ts';
import type { Trace } from '../sensing/index.ts';
import { studentQuantile } from '../statistics/index.ts';
import { commonPractice, decimals, figures, formula, type StepQuoting } from './steps-formula.ts';
import type { WrittenFormula, WrittenStep } from './steps-types.ts';
import { grouped } from './words.ts';

/** Error fractions at which the table shows a reading; those outside the window are left out. */
const shownFractions = [0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1];

/** The error fraction, and its logarithm, at a few readings. */
export function errorFractionStep(trace: Trace, taught: TaughtWorking, settings: DecaySettings): WrittenStep {
  const { start, ambient } = taught;
  const step = start.temperature - ambient;
  const points = pointsAt(trace.blocks, taught, settings);
  const values = {
    T0: decimals(start.temperature, 4),
    Ta: decimals(ambient, 4),
    step: decimals(step, 4),
  };
  const source = 'lumped body: Incropera et al., Fundamentals of Heat and Mass Transfer, 6th ed., eq. 5.6';
  const formulas = [
    formula(
      '\\Gamma = \\frac{T - T_\\infty}{T_0 - T_\\infty} = e^{-t/\\tau} \\;\\Rightarrow\\; \\ln\\Gamma = -\\frac{t}{\\tau}',
      'Γ = (T − T∞)/(T0 − T∞) = exp(−t/τ), so ln Γ = −t/τ',
      {},
      source,
    ),
    formula(
      'T_0 - T_\\infty = <T0>\\ \\text{°C} - <Ta>\\ \\text{°C} = <step>\\ \\mathrm{K}',
      'T0 − T∞ = <T0> °C − <Ta> °C = <step> K',
      values,
      commonPractice,
    ),
  ];
  const middle = points[Math.floor(points.length / 2)];
  if (middle !== undefined) {
    formulas.push(
      formula(
        '\\Gamma(<t>\\ \\mathrm{s}) = \\frac{<T> - <Ta>}{<step>} = <g>,\\quad \\ln\\Gamma = <y>',
        'Γ(<t> s) = (<T> − <Ta>)/<step> = <g>, ln Γ = <y>',
        { ...values, ...middle },
        source,
      ),
    );
  }
  const blocks = trace.blocks.width > 1.5 * trace.samplePeriod;
  return {
    id: 'error-fraction',
    title: 'The error fraction',
    text: [
      `As it is usually taught, the start is the hottest reading: ${values.T0} °C at ${decimals(start.time, 3)} s. Times t are counted from it.`,
      `The table shows ${blocks ? 'means of a few readings' : 'single readings'} on the way down.`,
    ],
    formulas,
    table:
      points.length === 0
        ? null
        : {
            columns: ['t / s', 'T / °C', 'Γ', 'ln Γ'],
            rows: points.map(({ t, T, g, y }) => [t, T, g, y]),
          },
    result: `T₀ − T∞ = ${values.step} K; every reading of the cooling becomes one point of ln Γ against t.`,
    source: null,
  };
}

interface ShownPoint extends Record<string, string> {
  readonly t: string;
  readonly T: string;
  readonly g: string;
  readonly y: string;
}

/** The first readings at or below the fractions that are shown. */
function pointsAt(
  { time, mean, length }: Blocks,
  taught: TaughtWorking,
  settings: DecaySettings,
): ShownPoint[] {
  const { start, ambient } = taught;
  const wanted = shownFractions.filter((f) => f <= settings.window.from && f >= settings.window.to);
  const points: ShownPoint[] = [];
  for (let i = 0; i < length && points.length < wanted.length; i++) {
    const t = (time[i] ?? Number.NaN) - start.time;
    if (t <= 0) continue;
    const temperature = mean[i] ?? Number.NaN;
    const g = (temperature - ambient) / (start.temperature - ambient);
    if (!(g > 0 && g <= (wanted[points.length] ?? 0))) continue;
    points.push({
      t: decimals(t, 3),
      T: decimals(temperature, 4),
      g: decimals(g, 5),
      y: decimals(Math.log(g), 5),
    });
  }
  return points;
}

/** Time from the start to 36.8 % of the step. */
export function pointStep(decay: Decay, taught: TaughtWorking, quoting: StepQuoting): WrittenStep | null {
  const classroom = classroomOf(decay, 'point-36.8');
  if (classroom === null) return null;
  const { start, ambient } = taught;
  const level = ambient + (start.temperature - ambient) * Math.exp(-1);
  return {
    id: 'point',
    title: 'The 36.8 % point',
    text: [
      'After one time constant e⁻¹ = 0.3679 of the step is left. The time of that level is read off between the two readings on either side. One reading decides: its noise, and the start, go into the result in full.',
    ],
    formulas: [
      formula(
        'T(\\tau) = T_\\infty + \\frac{T_0 - T_\\infty}{e} = <Ta>\\ \\text{°C} + \\frac{<step>\\ \\mathrm{K}}{2.71828} = <level>\\ \\text{°C}',
        'T(τ) = T∞ + (T0 − T∞)/e = <Ta> °C + <step> K/2.71828 = <level> °C',
        {
          Ta: decimals(ambient, 4),
          step: decimals(start.temperature - ambient, 4),
          level: decimals(level, 4),
        },
        commonPractice,
      ),
      formula(
        '\\tau = t_{36.8\\,\\%} - t_0 = <t>\\ \\mathrm{s} - <t0>\\ \\mathrm{s} = <tau>\\ \\mathrm{s}',
        'τ = t(36.8 %) − t0 = <t> s − <t0> s = <tau> s',
        {
          t: decimals(start.time + classroom.value, 4),
          t0: decimals(start.time, 4),
          tau: decimals(classroom.value, 4),
        },
        commonPractice,
      ),
    ],
    table: null,
    result: `As taught: τ = ${decimals(classroom.value, 3)} s, without an uncertainty. ${defended(decay, 'point-36.8', quoting)}`,
    source: null,
  };
}

/** The regression of ln of the error fraction on time, through the origin or with an intercept. */
export function regressionStep(
  decay: Decay,
  taught: TaughtWorking,
  settings: DecaySettings,
  kind: 'origin' | 'intercept',
  quoting: StepQuoting,
): WrittenStep | null {
  const method = kind === 'origin' ? 'log-linear-origin' : 'log-linear-intercept';
  const sums = taught[kind];
  const classroom = classroomOf(decay, method);
  if (sums === null || classroom === null || classroom.standardError === null) return null;
  const { from, to } = settings.window;
  const fitted = kind === 'origin' ? throughOrigin(sums) : withIntercept(sums);
  const worth = decay.independentReadings;
  const few = worth !== null && worth < sums.n;
  return {
    id: `regression-${kind}`,
    title:
      kind === 'origin' ? 'Regression of ln Γ through the origin' : 'Regression of ln Γ with an intercept',
    text: [
      `${grouped(sums.n)} readings have an error fraction between ${from} and ${to}. ${
        kind === 'origin'
          ? 'The line is held at ln Γ = 0 at t = 0: an error of the start turns it.'
          : 'The intercept takes up an error of the start, at the price of more scatter.'
      }`,
      `The printed standard error is too small: it takes the readings as independent, and T∞ and T₀ as exact.${
        few
          ? ` They are worth about ${figures(worth, 2)} independent readings; for that alone it would be about ${figures(Math.sqrt(sums.n / worth), 2)} times as large.`
          : ''
      }`,
    ],
    formulas: [...fitted.formulas, ...printed(fitted, kind)],
    table: {
      columns: ['sum', 'value'],
      rows: [
        ['n', String(sums.n)],
        ['Σ t / s', digits(sums.x)],
        ['Σ t² / s²', digits(sums.xx)],
        ['Σ ln Γ', digits(sums.y)],
        ['Σ t ln Γ / s', digits(sums.xy)],
        ['Σ (ln Γ)²', digits(sums.yy)],
      ],
    },
    result: `As taught: τ = ${decimals(classroom.value, 4)} s, printed standard error ${figures(classroom.standardError, 3)} s, printed 95 % interval ${decimals(classroom.interval?.[0] ?? Number.NaN, 3)} s to ${decimals(classroom.interval?.[1] ?? Number.NaN, 3)} s. ${defended(decay, method, quoting)}`,
    source: null,
  };
}

/** Enough digits for the differences that the sums are made into. */
function digits(sum: number): string {
  return figures(sum, 12);
}

interface FittedLine {
  readonly formulas: WrittenFormula[];
  readonly slope: number;
  readonly sxx: number;
  readonly residual: number;
  readonly freedom: number;
}

const leastSquares = 'ordinary least squares, as it is usually taught';

function throughOrigin({ n, xx, xy, yy }: Readonly<RegressionSums>): FittedLine {
  const slope = xy / xx;
  const residual = Math.max(0, yy - slope * xy);
  return {
    slope,
    sxx: xx,
    residual,
    freedom: n - 1,
    formulas: [
      formula(
        'b = \\frac{\\sum t \\ln\\Gamma}{\\sum t^2} = \\frac{<xy>\\ \\mathrm{s}}{<xx>\\ \\mathrm{s}^2} = <b>\\ \\mathrm{s}^{-1}',
        'b = Σ t ln Γ / Σ t² = <xy> s / <xx> s² = <b> /s',
        { xy: figures(xy, 8), xx: figures(xx, 8), b: figures(slope, 8) },
        leastSquares,
      ),
      formula(
        '\\textstyle S = \\sum (\\ln\\Gamma)^2 - b \\sum t \\ln\\Gamma = <S>',
        'S = Σ (ln Γ)² − b Σ t ln Γ = <S>',
        { S: figures(residual, 5) },
        leastSquares,
      ),
    ],
  };
}

function withIntercept({ n, x, y, xx, xy, yy }: Readonly<RegressionSums>): FittedLine {
  const sxx = xx - (x * x) / n;
  const sxy = xy - (x * y) / n;
  const syy = yy - (y * y) / n;
  const slope = sxy / sxx;
  const residual = Math.max(0, syy - slope * sxy);
  return {
    slope,
    sxx,
    residual,
    freedom: n - 2,
    formulas: [
      formula(
        'S_{tt} = \\sum t^2 - \\frac{(\\sum t)^2}{n} = <sxx>\\ \\mathrm{s}^2,\\quad S_{ty} = \\sum t\\ln\\Gamma - \\frac{\\sum t\\,\\sum \\ln\\Gamma}{n} = <sxy>\\ \\mathrm{s}',
        'S_tt = Σ t² − (Σ t)²/n = <sxx> s², S_ty = Σ t ln Γ − Σ t Σ ln Γ/n = <sxy> s',
        { sxx: figures(sxx, 8), sxy: figures(sxy, 8) },
        leastSquares,
      ),
      formula(
        'b = \\frac{S_{ty}}{S_{tt}} = <b>\\ \\mathrm{s}^{-1},\\quad a = \\frac{\\sum\\ln\\Gamma - b\\sum t}{n} = <a>',
        'b = S_ty/S_tt = <b> /s, a = (Σ ln Γ − b Σ t)/n = <a>',
        { b: figures(slope, 8), a: figures((y - slope * x) / n, 5) },
        leastSquares,
      ),
      formula(
        'S = S_{yy} - b\\,S_{ty} = <S>',
        'S = S_yy − b S_ty = <S>, S_yy = Σ (ln Γ)² − (Σ ln Γ)²/n',
        { S: figures(residual, 5) },
        leastSquares,
      ),
    ],
  };
}

/** From the line to the time constant and what a class prints beside it. */
function printed(
  { slope, sxx, residual, freedom }: FittedLine,
  kind: 'origin' | 'intercept',
): WrittenFormula[] {
  const tau = -1 / slope;
  const error = tau ** 2 * Math.sqrt(residual / freedom / sxx);
  const less = kind === 'origin' ? '1' : '2';
  const below = kind === 'origin' ? '\\sum t^2' : 'S_{tt}';
  const belowWords = kind === 'origin' ? 'Σ t²' : 'S_tt';
  const t = studentQuantile(0.975, freedom);
  return [
    formula(
      '\\tau = -\\frac{1}{b} = <tau>\\ \\mathrm{s}',
      'τ = −1/b = <tau> s',
      { tau: decimals(tau, 4) },
      commonPractice,
    ),
    formula(
      `u^2(b) = \\frac{S}{(n-${less})\\,${below}} = \\frac{<S>}{<f>\\cdot <sxx>\\ \\mathrm{s}^2} = (<ub>\\ \\mathrm{s}^{-1})^2`,
      `u²(b) = S/((n − ${less}) ${belowWords}) = <S>/(<f> · <sxx> s²) = (<ub> /s)²`,
      {
        S: figures(residual, 5),
        f: String(freedom),
        sxx: figures(sxx, 8),
        ub: figures(error / tau ** 2, 4),
      },
      leastSquares,
    ),
    formula(
      'u(\\tau) = \\tau^2\\,u(b) = (<tau>\\ \\mathrm{s})^2\\cdot <ub>\\ \\mathrm{s}^{-1} = <u>\\ \\mathrm{s}',
      'u(τ) = τ² u(b) = (<tau> s)² · <ub> /s = <u> s',
      { tau: decimals(tau, 4), ub: figures(error / tau ** 2, 4), u: figures(error, 4) },
      'JCGM 100:2008, 5.1.2, for uncorrelated readings',
    ),
    formula(
      '\\tau \\pm t_{0.975}(n-<less>)\\,u(\\tau) = <tau>\\ \\mathrm{s} \\pm <t>\\cdot <u>\\ \\mathrm{s}',
      'τ ± t(0.975, n − <less>) u(τ) = <tau> s ± <t> · <u> s',
      { less, tau: decimals(tau, 4), t: figures(t, 5), u: figures(error, 4) },
      'JCGM 100:2008, G.3.2',
    ),
  ];
}

function classroomOf(decay: Decay, method: EstimateMethod) {
  return decay.estimates.find((one) => one.method === method)?.classroom ?? null;
}

/** The same estimate with what can be defended. */
function defended(decay: Decay, method: EstimateMethod, quoting: StepQuoting): string {
  const estimate = decay.estimates.find((one) => one.method === method);
  if (estimate === undefined) return '';
  const { text } = formatWithUncertainty(estimate.value, estimate.standardUncertainty, {
    ...quoting,
    unit: 's',
    minus: 'true',
  });
  return `With the fitted start, block means and the noise as it is: τ = ${text}, standard uncertainty.`;
}
