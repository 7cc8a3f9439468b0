import { randomBytes } from 'node:crypto';
import { type Condition, conditionName, conditionsOf, type Experiment } from '../experiment/index.ts';
import { type FaultWish, faultNames, type PracticeWishes } from '../practice/index.ts';
import { parseQuantity } from '../quantity/index.ts';
import type { PracticeCommandOptions } from './practice-command.ts';
import { OptionError } from './wishes.ts';

/** Longest seed: a sentence. */
const longestSeed = 200;

/**
 * What the options ask for.
 *
 * @throws OptionError where an option cannot be understood
 */
export function practiceWishes(options: PracticeCommandOptions, experiment: Experiment): PracticeWishes {
  return {
    seed: seedOf(options.seed),
    groups: wholeNumber('--groups', options.groups),
    repeats: wholeNumber('--repeats', options.repeats),
    conditions: options.conditions === undefined ? null : conditionsFrom(options.conditions, experiment),
    rate: options.rate === undefined ? null : rateOf(options.rate),
    faults: (options.fault ?? []).map(faultOf),
    faultShare: options.faults === undefined ? 0 : shareOf(options.faults),
    date: options.date ?? '2026-03-02',
    exercise: options.exercise ?? false,
  };
}

/** A seed of a hundred bits cannot be found by trying. */
function seedOf(given: string | undefined): string {
  if (given === undefined) return randomBytes(13).toString('hex');
  if (given.trim() !== '' && given.length <= longestSeed) return given;
  throw new OptionError(`--seed: write a text of 1 to ${longestSeed} characters`);
}

function wholeNumber(option: string, text: string | undefined): number | null {
  if (text === undefined) return null;
  if (/^\d{1,4}$/.test(text) && Number(text) >= 1) return Number(text);
  throw new OptionError(`${option} ${text}: write a whole number, as 8`);
}

function rateOf(text: string): number {
  const rate = parseQuantity(text, 'frequency');
  if (rate.ok && rate.value > 0) return rate.value;
  throw new OptionError(`--rate ${text}: write a rate such as "100 Hz" or "1 kHz"`);
}

function shareOf(text: string): number {
  const share = parseQuantity(text, 'ratio');
  if (share.ok && share.value >= 0 && share.value <= 1) return share.value;
  throw new OptionError(
    `--faults ${text}: write a part of the recordings, as 20%; a fault by its name is --fault`,
  );
}

function faultOf(text: string): FaultWish {
  const at = text.indexOf(':');
  const written = at < 0 ? text : text.slice(0, at);
  const name = faultNames.find((one) => one === written);
  if (name === undefined) {
    throw new OptionError(`--fault ${text}: there is no such fault; write one of ${faultNames.join(', ')}`);
  }
  const group = at < 0 ? null : text.slice(at + 1);
  if (group !== '') return { name, group };
  throw new OptionError(
    `--fault ${text}: write the code of a group behind the colon, or leave the colon out`,
  );
}

function conditionsFrom(text: string, experiment: Experiment): Condition[] {
  const { measured } = conditionsOf(experiment);
  const chosen = text.split(',').map((piece) => piece.trim().replace(/\s+/g, ' '));
  return chosen.flatMap((name) => {
    const own = measured.filter((one) => conditionName(one) === name || one.body === name);
    if (own.length > 0) return own;
    const known = measured.slice(0, 20).map(conditionName).join(', ');
    throw new OptionError(
      `--conditions: "${name}" is no condition that is measured; the experiment file has ${known || 'none'}`,
    );
  });
}
