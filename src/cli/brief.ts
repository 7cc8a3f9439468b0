import type { AnalyzedFile } from '../analysis/index.ts';
import { timeConstantWords, verdictWords } from '../analysis/index.ts';
import type { Decay } from '../decay/index.ts';
import { brailleStrip } from '../figure/terminal.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

const nameColumns = 30;
const valueColumns = 18;
const stripColumns = 8;

/** The line above a list of recordings. */
export function briefHead(ink: Ink): string {
  const value = 'time constant';
  return ink.faint(
    `${'recording'.padEnd(nameColumns)} ${value.padEnd(valueColumns)} ${'ln decay'.padEnd(stripColumns)}  verdict`,
  );
}

/**
 * A result in a line for a list of many: name, time constant with its 95 % half-width, the logarithm of the error
 * fraction as a strip of dots (straight where one exponential describes the cooling), verdict. What is to be looked at
 * follows in lines of its own, by the codes of the remarks.
 *
 * @param decided what people decided about the recording, a sentence each
 */
export function briefResult(
  { recording, decay }: AnalyzedFile,
  decided: readonly string[],
  ink: Ink,
): string[] {
  const value = decay.timeConstant === null ? 'none' : shortValue(decay.timeConstant);
  const verdict = verdictWords[decay.verdict];
  const shown = decay.verdict === 'usable' ? verdict : ink.warm(verdict);
  const cells = [
    endOf(printable(recording.name)).padEnd(nameColumns),
    value.padEnd(valueColumns),
    strip(decay).padEnd(stripColumns),
  ];
  const codes = decay.remarks.filter(({ severity }) => severity !== 'note').map(({ code }) => code);
  return [
    `${cells.join(' ')}  ${shown}`,
    ...(codes.length === 0 ? [] : entry('', [...new Set(codes)].join(', '), 4).map(ink.faint)),
    ...decided.flatMap((sentence) => entry('', printable(sentence), 4)).map(ink.faint),
  ];
}

/** The part in brackets of a lopsided interval has no room here. */
function shortValue(timeConstant: NonNullable<Decay['timeConstant']>): string {
  return timeConstantWords(timeConstant).replace(/ \(.*$/, '');
}

/** The end of a path says more than its beginning. */
function endOf(path: string): string {
  const letters = [...path];
  return letters.length <= nameColumns ? path : `…${letters.slice(1 - nameColumns).join('')}`;
}

/** Below this the noise is larger than what is left. */
const lowest = 0.05;

function strip({ points }: Decay): string {
  const shown = points.filter(({ errorFraction }) => errorFraction > lowest);
  return brailleStrip(
    shown.map(({ time }) => time),
    shown.map(({ errorFraction }) => Math.log(errorFraction)),
    stripColumns,
  );
}
