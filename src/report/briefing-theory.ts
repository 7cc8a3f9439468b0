import { conditionName, entryOf, type PredictedCondition } from '../experiment/index.ts';
import { findCorrelation, lumpedBiotLimit } from '../prediction/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import type { BriefingInput } from './briefing-types.ts';
import type { Block, Text } from './document.ts';
import { documentSettings } from './settings.ts';
import { quotedInterval } from './values.ts';

type Predicted = Extract<PredictedCondition, { ok: true }>;

const lumpedSource =
  'lumped body: Incropera et al., Fundamentals of Heat and Mass Transfer, 6th ed., eq. 5.6 and 5.7';

/** What is assumed, with this rig's numbers, and how far off it will be. */
export function theoryBlocks(input: BriefingInput): Block[] {
  const predicted = input.predictions.filter((one): one is Predicted => one.ok);
  const shapes = new Set(
    Object.values(input.experiment.bodies).map(({ shape }) => (shape === 'wire' ? 'wire' : 'sphere')),
  );
  return [
    {
      kind: 'paragraph',
      text: 'A body of one temperature loses heat in proportion to its excess over the air about it. The excess then dies away as one exponential.',
    },
    {
      kind: 'formula',
      tex: '\\rho\\,c\\,V\\,\\frac{dT}{dt} = -h\\,A\\,(T - T_\\infty) \\;\\Rightarrow\\; \\frac{T - T_\\infty}{T_0 - T_\\infty} = e^{-t/\\tau}',
      plain: 'ρ c V dT/dt = −h A (T − T∞), so (T − T∞)/(T0 − T∞) = exp(−t/τ)',
      source: null,
    },
    ...(shapes.has('sphere') ? [timeConstantFormula(6, 'a sphere')] : []),
    ...(shapes.has('wire') ? [timeConstantFormula(4, 'a wire')] : []),
    {
      kind: 'notes',
      text: 'Let them say what τ does when the diameter doubles: twice by the volume over the area alone, and nearly three times with the h of the jet, which falls as the body grows.',
    },
    ...(predicted.length === 0 ? [] : [...assumptionBlocks(predicted), ...farOffBlocks(input, predicted)]),
  ];
}

function timeConstantFormula(divisor: 4 | 6, of: string): Block {
  return {
    kind: 'formula',
    tex: `\\tau = \\frac{\\rho\\,c\\,V}{h\\,A} = \\frac{\\rho\\,c\\,D}{${divisor}\\,h}`,
    plain: `τ = ρ c V/(h A) = ρ c D/(${divisor} h) for ${of}`,
    source: `for ${of}; ${lumpedSource}`,
  };
}

/** Each assumption beside the number that tells how well it holds here. */
function assumptionBlocks(predicted: readonly Predicted[]): Block[] {
  const range = (of: (prediction: Predicted['prediction']) => number) => {
    const values = predicted.map(({ prediction }) => of(prediction));
    return [Math.min(...values), Math.max(...values)] as const;
  };
  const share = (part: 'radiation' | 'stem') =>
    percentWords(range(({ heatTransferCoefficient: h }) => (h.total > 0 ? h[part] / h.total : 0)));
  const biot = range(({ biot }) => biot.volumeToArea);
  const steady = range(({ window }) => Math.abs(window.last / window.first - 1));
  const reynolds = range((one) => one.reynolds);
  const rows: Text[][] = [
    [
      'one temperature in the body',
      `Bi = h (V/A)/k is ${numbersWords(biot)}; the rule asks for less than ${lumpedBiotLimit}`,
      biot[1] < lumpedBiotLimit ? 'holds' : 'look at it: the first mode of the sphere is used',
    ],
    [
      'one coefficient h throughout',
      `τ changes by ${percentWords(steady)} from the start of the window to its end`,
      'h is taken in the middle',
    ],
    ['heat leaves by convection alone', `radiation carries ${share('radiation')} of it`, 'counted'],
    ['nothing leaves by the wires', `the wires carry ${share('stem')} of it`, 'counted'],
    ['one exponential', 't₉₀/t₅₀ would be 3.32 exactly', 'each recording is tested for it'],
  ];
  const named = [...new Set(predicted.map(({ prediction }) => prediction.correlation.forced))];
  const sources = named.map((id) => findCorrelation(id)?.citation ?? id);
  const moving = reynolds[1] > 0;
  return [
    { kind: 'heading', level: 2, text: 'What it assumes, and what that is worth on this rig' },
    {
      kind: 'table',
      table: {
        caption: null,
        columns: [
          { title: 'assumed', align: 'start', share: 3 },
          { title: 'here', align: 'start', share: 5 },
          { title: 'so', align: 'start', share: 3 },
        ],
        rows,
      },
    },
    ...(moving
      ? [
          {
            kind: 'paragraph',
            text: `h comes from Nu = h D/k of a correlation at Re ${numbersWords(reynolds)}: ${sources.join('; ')}.`,
          } satisfies Block,
        ]
      : []),
    {
      kind: 'notes',
      text: 'The test of V/A against k is one of the body, not of the fit: a Biot number of 0.1 bends the first moments of the decay; what follows is straight again, with a slope that is not quite the lumped one.',
    },
  ];
}

function farOffBlocks({ experiment }: BriefingInput, predicted: readonly Predicted[]): Block[] {
  const { quoting } = documentSettings(experiment);
  const { accuracy } = experiment.prediction;
  const coverage = experiment.prediction['coverage-factor'];
  const lows = predicted.map(({ prediction: { timeConstant: t } }) => t.interval[0] / t.value - 1);
  const highs = predicted.map(({ prediction: { timeConstant: t } }) => t.interval[1] / t.value - 1);
  const [low, high] = [Math.min(...lows), Math.max(...highs)];
  return [
    { kind: 'heading', level: 2, text: 'How far off theory will be' },
    {
      kind: 'paragraph',
      text: `Correlations are good to about ±${formatSignificant(100 * accuracy, 2)} % in h (k = ${coverage}). With diameter, flow and material, the 95 % intervals of the time constants reach from ${signedPercent(low)} to ${signedPercent(high)} about what is expected: not symmetric, for τ goes as 1/h. A measured value within that is no surprise, and no proof.`,
    },
    { kind: 'heading', level: 2, text: 'What to expect' },
    {
      kind: 'table',
      table: {
        caption: 'What theory expects, with its 95 % interval.',
        columns: [
          { title: 'condition', align: 'start' },
          { title: 'Re', align: 'end' },
          { title: 'h / W/(m²·K)', align: 'end' },
          { title: 'Bi', align: 'end' },
          { title: 'τ / s', align: 'decimal' },
          { title: 'between / s', align: 'end' },
        ],
        rows: predicted.map(({ condition, prediction }) => {
          const { timeConstant, reynolds, heatTransferCoefficient, biot } = prediction;
          const expected = quotedInterval(timeConstant.value, timeConstant.interval, quoting);
          return [
            conditionName(condition),
            entryOf(experiment.flows, condition.flow)?.kind === 'still'
              ? '–'
              : formatSignificant(reynolds, 2),
            formatSignificant(heatTransferCoefficient.total, 2),
            formatSignificant(biot.volumeToArea, 1),
            expected.value,
            expected.interval,
          ];
        }),
      },
    },
    {
      kind: 'notes',
      text: 'With an interval this wide, agreement is easily had. Ask what the smallest difference is that this comparison could have shown.',
    },
  ];
}

/** The analysis, step by step, as it is done by hand. */
export function analysisBlocks({ experiment: { protocol } }: BriefingInput): Block[] {
  const { from, to } = protocol.window;
  return [
    {
      kind: 'list',
      ordered: true,
      items: [
        'Ambient T∞: the mean of the baseline, on the same channel and in the same unit as the cooling.',
        'Start T₀: where the clean cooling begins. The clock starts there, not with the file.',
        'Error fraction of each reading: what is left of the step.',
        `Window: readings with an error fraction from ${from} down to ${to}. Above, the heat is still going away; below, noise and ambient rule.`,
        'Straight line through ln of the error fraction against time; its slope is −1/τ.',
        'Uncertainty: the ambient, the start, the noise, the repeats. Neighbouring readings are not independent, so what a regression prints is far too small.',
        'Hold it against theory with both uncertainties: agrees, disagrees, or too weak to tell.',
      ],
    },
    {
      kind: 'formula',
      tex: '\\Gamma = \\frac{T - T_\\infty}{T_0 - T_\\infty},\\quad \\ln\\Gamma = -\\frac{t}{\\tau}',
      plain: 'Γ = (T − T∞)/(T0 − T∞), ln Γ = −t/τ',
      source: lumpedSource,
    },
    { kind: 'heading', level: 2, text: 'Slips that cost most' },
    {
      kind: 'list',
      ordered: false,
      items: [
        'An ambient that is off by 5 % of the step moves τ by 12 % to 18 %; one that is not subtracted at all makes it several times too long.',
        'A clock that was not set to zero when the cooling began: an offset of τ/10 adds 7 % to the τ of the line through the origin.',
        'log₁₀ for ln makes τ 2.3 times too long.',
        'The number of the reading for seconds, or milliseconds for seconds.',
        'The slope itself handed in for the time constant: the unit is then 1/s.',
      ],
    },
    {
      kind: 'notes',
      text: 'The slips are those of a simulated cooling of 12 s, fitted through the origin from 0.9 to 0.1 of the step. Three estimates of one recording, the one-point value and the two lines, name the slip between them.',
    },
  ];
}

function numbersWords([low, high]: readonly [number, number]): string {
  const [from, to] = [formatSignificant(low, 2), formatSignificant(high, 2)];
  return from === to ? from : `${from} to ${to}`;
}

function percentWords([low, high]: readonly [number, number]): string {
  const percent = (part: number) => (part < 0.001 ? '0' : formatSignificant(100 * part, part < 0.1 ? 1 : 2));
  return percent(low) === percent(high) ? `${percent(high)} %` : `${percent(low)} % to ${percent(high)} %`;
}

function signedPercent(part: number): string {
  if (!Number.isFinite(part)) return 'without limit';
  return `${part < 0 ? '−' : '+'}${formatSignificant(Math.abs(100 * part), 2)} %`;
}
