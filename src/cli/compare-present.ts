import type { MeasuredFolder } from '../analysis/index.ts';
import {
  type ConditionComparison,
  conditionName,
  type MaterialTrends,
  reachWords,
  type TimeConstantComparison,
} from '../experiment/index.ts';
import type { AgreementVerdict } from '../quantity/index.ts';
import { formatSignificant, formatWithUncertainty } from '../quantity/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

interface Compared {
  readonly path: string;
  readonly comparisons: readonly ConditionComparison[];
  readonly trends: readonly MaterialTrends[];
  readonly found: MeasuredFolder;
}

/** A comparison for a person: lines of at most 80 columns but for paths. */
export function presentComparison({ path, comparisons, trends, found }: Compared, ink: Ink): string[] {
  return [
    ink.strong(printable(path)),
    ...entry('recordings', countWords(found)),
    '',
    ...verdictTable(comparisons, ink),
    ...sentenceLines(comparisons),
    ...singleLines(comparisons),
    ...trendLines(trends),
    ...heatTable(comparisons, ink),
    ...responseTable(comparisons, ink),
    ...remarkLines(comparisons, ink),
    ...recordingLines(found, ink),
    '',
  ];
}

function countWords({ recordings, asked, measured }: MeasuredFolder): string {
  const counted = recordings.filter(({ excluded }) => excluded === null).length;
  const unclear = asked.length === 0 ? '' : `; ${asked.length} to ask about`;
  return `${counted} of ${recordings.length} count, for ${measured.length} ${measured.length === 1 ? 'condition' : 'conditions'}${unclear}`;
}

const nameWidth = 21;
const verdictName = 20;

const agreementWords: Readonly<Record<AgreementVerdict, string>> = {
  agree: 'agree',
  disagree: 'disagree',
  'too-weak-to-tell': 'too weak to tell',
};

function verdictTable(comparisons: readonly ConditionComparison[], ink: Ink): string[] {
  if (comparisons.length === 0) return [];
  const head = `  ${'condition'.padEnd(verdictName)} runs    tau ± U, s  theory ratio    En  verdict`;
  return [
    ink.faint(head),
    ...comparisons.map(({ condition, measured, prediction, comparison }) => {
      const half = (measured.interval[1] - measured.interval[0]) / 2;
      const { value, uncertainty } = formatWithUncertainty(measured.value, half);
      const verdict = comparison === null ? 'no theory' : agreementWords[comparison.verdict];
      return [
        `  ${shortened(conditionName(condition), verdictName).padEnd(verdictName)}`,
        String(measured.runs.length).padStart(4),
        `${value} ± ${uncertainty}`.padStart(13),
        (prediction === null ? '-' : formatSignificant(prediction.timeConstant.value, 3)).padStart(7),
        (comparison === null ? '-' : formatSignificant(comparison.ratio, 3)).padStart(5),
        (comparison === null ? '-' : formatSignificant(comparison.normalisedError, 2)).padStart(5),
        ` ${comparison?.verdict === 'disagree' ? ink.warm(verdict) : verdict}`,
      ].join(' ');
    }),
    '',
  ];
}

function sentenceLines(comparisons: readonly ConditionComparison[]): string[] {
  const lines = comparisons.flatMap(({ condition, comparison, message }) => {
    const text = comparison === null ? printable(message ?? '') : differenceWords(comparison);
    return entry('', `${conditionName(condition)}: ${text}`, 4);
  });
  const verdicts = comparisons.flatMap(({ comparison }) => (comparison === null ? [] : [comparison.verdict]));
  return [
    ...lines,
    ...(verdicts.length === 0
      ? []
      : entry('En', 'of the rates 1/tau, on which the interval of theory is symmetric.')),
    ...(verdicts.includes('too-weak-to-tell') ? entry('too weak', weakWords) : []),
    ...(verdicts.includes('disagree') ? entry('disagree', disagreeWords) : []),
    ...(lines.length === 0 ? [] : ['']),
  ];
}

const weakWords =
  'Measured and theory lie within their uncertainties, but so would values that differ by more than the 10 % that matter: even a ratio of 1.00 confirms theory no better than its own uncertainty, usually ±30 % of h.';

const disagreeWords =
  'Look at the flow and the reference conditions of its meter, body and material, the stand-off of the nozzle, the unit of time, and the ambient.';

function differenceWords({ ratio, smallestSeen }: TimeConstantComparison): string {
  const size = formatSignificant(Math.abs(100 * (ratio - 1)), 2);
  return `${size} % ${ratio >= 1 ? 'above' : 'below'} theory; explained is ${reachWords(smallestSeen)}.`;
}

function singleLines(comparisons: readonly ConditionComparison[]): string[] {
  const single = comparisons.filter(({ measured }) => measured.runs.length === 1).length;
  if (single === 0) return [];
  const who = single === 1 ? 'One condition has' : `${single} conditions have`;
  return [...entry('repeats', `${who} a single run: the ± there holds nothing of how trials repeat.`), ''];
}

function trendLines(trends: readonly MaterialTrends[]): string[] {
  if (trends.length === 0) return [];
  return [
    ...trends.flatMap(({ material, shape, trends: own }) => {
      return own.flatMap(({ sentence, points }, i) => {
        const whose = i === 0 ? `${shape} of ${printable(material)}, ${points} conditions: ` : '';
        return entry(i === 0 ? 'trend' : '', `${whose}${sentence}`);
      });
    }),
    '',
  ];
}

function heatTable(comparisons: readonly ConditionComparison[], ink: Ink): string[] {
  const rows = comparisons.flatMap(({ condition, heatTransfer }) => {
    if (heatTransfer === null) return [];
    const { total, convection, nusselt } = heatTransfer;
    const shown = ({ value, interval }: typeof total) => {
      const text = formatWithUncertainty(value, interval[1] - value);
      return `${text.value} ± ${text.uncertainty}`;
    };
    return [
      [
        `  ${shortened(conditionName(condition), nameWidth).padEnd(nameWidth)}`,
        shown(total).padStart(17),
        shown(convection).padStart(17),
        shown(nusselt).padStart(17),
      ].join(' '),
    ];
  });
  if (rows.length === 0) return [];
  const head = `  ${'back from tau (95 %)'.padEnd(nameWidth)} ${'h, all W/m²K'.padStart(17)} ${'h, convection'.padStart(17)} ${'Nu'.padStart(17)}`;
  return [ink.faint(head), ...rows, ''];
}

function responseTable(comparisons: readonly ConditionComparison[], ink: Ink): string[] {
  if (comparisons.length === 0) return [];
  const head = `  ${'response'.padEnd(nameWidth)} ${['t50 s', 't63 s', 't90 s', 't99 s'].map((name) => name.padStart(8)).join(' ')}  cut-off Hz`;
  return [
    ink.faint(head),
    ...comparisons.map(({ condition, response }) => {
      const { t50, t63, t90, t99, cutoffFrequency } = response;
      const times = [t50, t63, t90, t99].map((time) => formatSignificant(time, 3).padStart(8)).join(' ');
      return `  ${shortened(conditionName(condition), nameWidth).padEnd(nameWidth)} ${times}  ${formatSignificant(cutoffFrequency, 3).padStart(10)}`;
    }),
    ...entry('', 'On a steady ramp the sensor lags by t63: at 1 K/s it shows as many kelvin less.', 2),
    '',
  ];
}

function remarkLines(comparisons: readonly ConditionComparison[], ink: Ink): string[] {
  return comparisons.flatMap(({ condition, remarks }) => {
    return remarks.flatMap(({ severity, message, action, code }) => {
      const text = `${conditionName(condition)}: ${message} ${action} [${code}]`;
      const [first = '', ...rest] = entry(severity, text);
      return [severity === 'note' ? first : first.replace(severity, ink.warm(severity)), ...rest];
    });
  });
}

/** Most recordings that are listed one by one. */
const mostListed = 20;

interface Line {
  readonly label: string;
  readonly text: string;
}

function recordingLines({ recordings, asked }: MeasuredFolder, ink: Ink): string[] {
  const noted = recordings.flatMap(({ path, notes }): Line[] => {
    if (notes.length === 0) return [];
    const label = notes.some(({ severity }) => severity === 'caution') ? 'caution' : 'note';
    return [
      { label, text: `${path}: ${notes.map(({ code, message }) => `${message} [${code}]`).join(' ')}` },
    ];
  });
  const excluded = recordings.flatMap(({ path, verdict, excluded: why, copyOf }): Line[] => {
    if (why === null) return [];
    const read = copyOf === null ? 'repeat' : 'copy';
    return [{ label: verdict === null ? 'not read' : read, text: `${path}: ${why}` }];
  });
  const questions = asked.map(({ path, message }) => ({ label: 'asked', text: `${path}: ${message}` }));
  return [...listed(noted, ink), ...listed([...excluded, ...questions], ink)];
}

function listed(lines: readonly Line[], ink: Ink): string[] {
  const more = lines.length - mostListed;
  return [
    ...lines.slice(0, mostListed).flatMap(({ label, text }) => {
      const [first = '', ...rest] = entry(label, printable(text));
      return [label === 'note' ? first : first.replace(label, ink.warm(label)), ...rest];
    }),
    ...(more > 0 ? entry('', `and ${more} more, all of them with --json`) : []),
  ];
}

function shortened(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}
