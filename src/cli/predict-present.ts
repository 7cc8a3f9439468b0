import { type Experiment, entryOf, type PredictedCondition } from '../experiment/index.ts';
import { type Prediction, parameterWords } from '../prediction/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import { remarkLines } from './predict-remarks.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

interface Predicted {
  readonly path: string;
  readonly experiment: Experiment;
  readonly predicted: readonly PredictedCondition[];
}

/** Predictions for a person: lines of at most 80 columns but for the path. */
export function presentPredictions({ path, experiment, predicted }: Predicted, ink: Ink): string[] {
  if (predicted.length === 0) {
    return [
      printable(path),
      ...entry('', 'There are no conditions: list bodies and flows in the file.', 2),
      '',
    ];
  }
  const bodies = [...new Set(predicted.map(({ condition }) => condition.body))];
  return [
    ink.strong(printable(path)),
    '',
    ...bodies.flatMap((body) => {
      const own = predicted.filter(({ condition }) => condition.body === body);
      return [...bodyLines(body, experiment, own, ink), ''];
    }),
    ...closingLines(experiment, predicted),
    ...remarkLines(predicted, ink),
    '',
  ];
}

const head = '    flow       U m/s     Re    Nu h W/m²K   Bi V/A    Bi D  tau s  95 % within';

function bodyLines(
  code: string,
  experiment: Experiment,
  own: readonly PredictedCondition[],
  ink: Ink,
): string[] {
  const predictions = own.flatMap((one) => (one.ok ? [one.prediction] : []));
  return [
    `  ${ink.strong(code)}  ${bodyWords(code, experiment)}`,
    ...(predictions.length === 0 ? [] : [ink.faint(head)]),
    ...own.flatMap((one) => (one.ok ? [row(one.condition.flow, one.prediction)] : failure(one, ink))),
    ...(predictions.length === 0 ? [] : entry('  ± made of', shareWords(predictions), 15)),
    ...(predictions.length === 0 ? [] : entry('  h made of', heatWords(predictions), 15)),
  ];
}

function bodyWords(code: string, { bodies }: Experiment): string {
  const body = entryOf(bodies, code);
  if (body === undefined) return '';
  const material = body.material === undefined ? '' : ` of ${printable(body.material.material.name)}`;
  const diameter =
    body.diameter === undefined ? '' : `, ${Number((1000 * body.diameter.value).toPrecision(5))} mm`;
  return shortened(`${body.shape}${diameter}${material}`, 76 - code.length);
}

function failure({ condition, message }: PredictedCondition & { ok: false }, ink: Ink): string[] {
  const [first = '', ...rest] = entry(
    '  no value',
    `at ${printable(condition.flow)}: ${printable(message)}`,
    15,
  );
  return [first.replace('no value', ink.warm('no value')), ...rest];
}

function row(flow: string, prediction: Prediction): string {
  const { timeConstant, heatTransferCoefficient: h, biot } = prediction;
  const [low, high] = timeConstant.interval;
  const upper = Number.isFinite(high) ? `to ${figures(high, 3)}` : 'up, no end';
  return [
    `    ${shortened(flow, 10).padEnd(10)}`,
    figures(prediction.velocity, 3).padStart(5),
    figures(prediction.reynolds, 3).padStart(6),
    figures(prediction.nusselt, 3).padStart(5),
    figures(h.total, 3).padStart(7),
    figures(biot.volumeToArea, 2).padStart(8),
    figures(biot.diameter, 2).padStart(7),
    figures(timeConstant.value, 3).padStart(6),
    ` ${figures(low, 3)} ${upper}`,
  ].join(' ');
}

/** Plain digits, no exponent: `0.00012`, `12300`. */
function figures(value: number, digits: number): string {
  return formatSignificant(value, digits);
}

/** A code can be longer than its column. */
function shortened(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}

/** Smallest share that is worth a word. */
const worthAWord = 0.02;
const mostShares = 4;

/** Shares of the variance over the flows: `correlation 80 to 90 %`. */
function shareWords(predictions: readonly Prediction[]): string {
  const names = new Set(predictions.flatMap(({ budget }) => budget.map(({ input }) => input)));
  const shares = [...names].map((name) => {
    const own = predictions.map(({ budget }) => budget.find(({ input }) => input === name)?.share ?? 0);
    return { name, low: Math.min(...own), high: Math.max(...own) };
  });
  return shares
    .filter(({ high }) => high >= worthAWord)
    .sort((a, b) => b.high - a.high)
    .slice(0, mostShares)
    .map(({ name, low, high }) => `${parameterWords.get(name) ?? name} ${range(100 * low, 100 * high)} %`)
    .join(', ');
}

function heatWords(predictions: readonly Prediction[]): string {
  const shares = (part: 'convection' | 'radiation' | 'stem') => {
    const own = predictions.map(({ heatTransferCoefficient: h }) => (100 * h[part]) / h.total);
    return range(Math.min(...own), Math.max(...own));
  };
  return `convection ${shares('convection')} %, radiation ${shares('radiation')} %, wires ${shares('stem')} %`;
}

function range(low: number, high: number): string {
  const [a, b] = [share(low), share(high)];
  return a === b ? a : `${a} to ${b}`;
}

function share(percent: number): string {
  return percent > 0 && percent < 0.5 ? '<1' : percent.toFixed(0);
}

function closingLines({ prediction }: Experiment, predicted: readonly PredictedCondition[]): string[] {
  const done = predicted.filter(({ ok }) => ok).length;
  if (done === 0) return [];
  const { accuracy } = prediction;
  const below = (100 * accuracy) / (1 + accuracy);
  const above = (100 * accuracy) / (1 - accuracy);
  const text = `The correlation is trusted to ±${percent(100 * accuracy)} % in h (k = ${prediction['coverage-factor']}). tau goes with 1/h, so ±${percent(100 * accuracy)} % in h is -${percent(below)}/+${percent(above)} % in tau: the interval reaches farther up than down.`;
  return [
    ...entry('theory', text),
    ...entry(
      'Biot',
      'V/A is the length that the rule "below 0.1" means; with D the number is six times as large for a sphere, four times for a wire.',
    ),
  ];
}

function percent(value: number): string {
  return value.toFixed(0);
}
