import type { AnalyzedFile } from '../analysis/index.ts';
import {
  dialectWords,
  expandedUncertainty,
  grouped,
  hertz,
  methodWords,
  noiseWords,
  seconds,
  timeConstantWords,
  verdictWords,
} from '../analysis/index.ts';
import type { Decay, Estimate } from '../decay/index.ts';
import { brailleChart } from '../figure/terminal.ts';
import { formatAtPlace, formatSignificant, formatWithUncertainty } from '../quantity/index.ts';
import type { Span } from '../remark/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/**
 * A result for a person at a terminal: lines of at most 80 columns.
 *
 * @param decided what people decided about the recording, a sentence each
 */
export function presentResult(analyzed: AnalyzedFile, decided: readonly string[], ink: Ink): string[] {
  const { decay } = analyzed;
  return [
    ink.strong(printable(analyzed.recording.name)),
    ...readingLines(analyzed),
    ...partLines(decay),
    ...decided.flatMap((sentence) => entry('decided', printable(sentence))),
    '',
    ...headline(decay, ink),
    '',
    ...estimateLines(decay, ink),
    ...explanationLines(analyzed),
    '',
    ...chartLines(analyzed),
    '',
    ...remarkLines(decay, ink),
    '',
  ];
}

function readingLines({ recording, trace }: AnalyzedFile): string[] {
  const { channel } = recording;
  const read = `${grouped(recording.samples)} samples at ${hertz(recording.rate)} in ${seconds(recording.duration)} s; ${dialectWords(recording)}; channel ${channel.column} "${printable(channel.name)}"${channel.unit === null ? '' : ` in ${channel.unit}`}`;
  return [...entry('read', read), ...entry('degrees', trace.described)];
}

function partLines(decay: Decay): string[] {
  const { baseline, heating, hotTail, cooling, peak } = decay.segments;
  const span = (name: string, part: Span | null) => {
    return part === null ? [] : [`${name} ${seconds(part.from)} to ${seconds(part.to)} s`];
  };
  const parts = [
    ...span('baseline', baseline),
    ...span('heating', heating),
    ...(peak === null ? [] : [`peak ${peak.temperature.toFixed(1)} °C`]),
    ...span('hot tail', hotTail),
    ...span('clean cooling', cooling),
    ...(decay.endFraction === null ? [] : [`down to ${fractionText(decay.endFraction)} of the step`]),
  ];
  const lines = parts.length === 0 ? [] : entry('parts', parts.join('; '));
  if (decay.ambient === null) return lines;
  const { value, standardUncertainty, source, reason } = decay.ambient;
  const text = formatWithUncertainty(value, standardUncertainty, { unit: '°C' }).text;
  const origin = source === 'baseline' ? `baseline: ${reason}` : reason;
  return [...lines, ...entry('ambient', `${text} (standard uncertainty), ${origin}`)];
}

function fractionText(fraction: number): string {
  return fraction < 0.001 ? 'less than 0.001' : formatSignificant(fraction, 2);
}

function headline(decay: Decay, ink: Ink): string[] {
  const verdict = verdictWords[decay.verdict];
  const shown = decay.verdict === 'usable' ? ink.strong(verdict) : ink.warm(ink.strong(verdict));
  if (decay.timeConstant === null) return [`  ${ink.strong('no time constant')}   ${shown}`];
  const value = `time constant ${timeConstantWords(decay.timeConstant)}`;
  return [`  ${ink.strong(value)}  (95 %)   ${shown}`];
}

/** Estimates one below the other, decimal marks in line. */
function estimateLines(decay: Decay, ink: Ink): string[] {
  if (decay.estimates.length === 0) return [];
  const head = `  ${'estimates of the time constant in s'.padEnd(39)}as a classroom prints them`;
  const rows = decay.estimates.map((estimate) => {
    const reported = estimate.method === decay.timeConstant?.method;
    const name = `${methodWords[estimate.method]}${reported ? ', reported' : ''}`;
    const half = (estimate.interval[1] - estimate.interval[0]) / 2;
    const shown = formatWithUncertainty(estimate.value, half);
    const honest = `${shown.value.padStart(8)} ± ${shown.uncertainty}`;
    return `    ${name.padEnd(26)}${honest.padEnd(20)}${classroomText(estimate, shown.place)}`.trimEnd();
  });
  return [ink.faint(head), ...rows, ''];
}

function classroomText({ classroom }: Estimate, place: number | null): string {
  if (classroom === null) return '';
  if (classroom.interval === null) {
    return place === null ? classroom.value.toPrecision(4) : formatAtPlace(classroom.value, place);
  }
  const half = (classroom.interval[1] - classroom.interval[0]) / 2;
  const { value, uncertainty } = formatWithUncertainty(classroom.value, half);
  return `${value} ± ${uncertainty}`;
}

function explanationLines({ decay, trace }: AnalyzedFile): string[] {
  const { timeConstant, budget, adequacy, fingerprint } = decay;
  const lines: string[] = [];
  if (timeConstant !== null) {
    const shares = budget
      .filter(({ share }) => share >= 0.005)
      .map(({ label, share }) => `${label} ${(100 * share).toFixed(0)} %`);
    const U = formatWithUncertainty(timeConstant.value, expandedUncertainty(timeConstant)).uncertainty;
    lines.push(
      ...entry(
        'budget',
        `the ± ${U} s comes from ${shares.join(', ')} (shares of the variance)${sensorWords(budget, trace)}`,
      ),
    );
  }
  const noise = noiseWords(decay);
  if (noise !== null) lines.push(...entry('noise', noise));
  // A departure stands among the remarks, with what to do.
  if (adequacy?.firstOrder === true) lines.push(...entry('one decay?', adequacy.sentence));
  else if (adequacy !== null) lines.push(...entry('one decay?', 'see the remarks below'));
  if (fingerprint !== null) lines.push(...entry('classroom', fingerprint.sentence));
  return lines;
}

/** Whether the sensor's accuracy counts: an interval that leaves it out is too narrow, and nothing else shows it. */
function sensorWords(budget: Decay['budget'], { chain }: AnalyzedFile['trace']): string {
  if (chain.offset === 0 && chain.scale === 0 && chain.nonlinearity === 0) {
    return ". The sensor's accuracy is not in it: state its class, as --thermocouple K --tolerance 2, or under sensor in experiment.yaml";
  }
  const counted = budget.some(({ source, share }) => source === 'chain' && share >= 0.005);
  return counted ? '; the sensor chain is in none of the other estimates' : '';
}

function chartLines({ trace, decay }: AnalyzedFile): string[] {
  const { baseline, heating, cooling } = decay.segments;
  const spans = [
    ...(baseline === null ? [] : [{ ...baseline, name: 'baseline' }]),
    ...(heating === null ? [] : [{ ...heating, name: 'heating' }]),
    ...(cooling === null ? [] : [{ ...cooling, name: 'clean cooling' }]),
  ];
  return brailleChart({
    x: trace.blocks.time,
    y: trace.blocks.mean,
    width: 78,
    height: 10,
    xLabel: 'time in s',
    yLabel: 'temperature in °C',
    spans,
  }).map((line) => `  ${line}`);
}

function remarkLines(decay: Decay, ink: Ink): string[] {
  if (decay.remarks.length === 0) return ['  no remarks'];
  return decay.remarks.flatMap(({ severity, code, message, action }) => {
    const [first = '', ...rest] = entry(severity, `${printable(message)} ${printable(action)} [${code}]`);
    return [severity === 'note' ? first : first.replace(severity, ink.warm(severity)), ...rest];
  });
}
