import type { Remark } from '../remark/index.ts';
import { isoMoment } from './clock.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import type { ChosenPart, Parts } from './parts.ts';
import { type Plan, planRowsShown } from './plan.ts';
import type { Recording } from './types.ts';

/** The part to be taken. @throws RecordingError where it is not there, or has fewer than two samples */
export function choose(plan: Plan, parts: Parts, options: ReadOptions): ChosenPart {
  const chosen = parts.choose();
  const line = plan.dialect.firstDataLine;
  if (chosen === null) {
    throw new RecordingError(
      'segment-unknown',
      plan.name,
      null,
      `There is no part ${options.segment} in it; the logger began ${parts.count === 1 ? 'once' : `${parts.count} times`}.`,
      `Give --part a number up to ${parts.count}, or leave it out to take the longest part.`,
    );
  }
  if (chosen.part.samples < 2) {
    throw new RecordingError(
      'no-numbers',
      plan.name,
      line,
      `Column ${plan.choice.channel.column} ("${plan.choice.channel.name}") has ${chosen.part.samples === 0 ? 'no usable sample' : 'only one usable sample'}.`,
      'Name another column with --channel, or repeat the recording.',
      planRowsShown(plan),
    );
  }
  return chosen;
}

/** The recording of a part. @param most blocks, at least 2; as many as are kept without it */
export function describe(plan: Plan, chosen: ChosenPart, most?: number): Recording {
  const { part } = chosen;
  const { time, choice } = plan;
  const blocks = part.blocks(most);
  const rate = 1 / time.samplePeriod;
  return {
    name: plan.name,
    samples: part.samples,
    rate,
    duration: part.duration,
    startedAt: startOf(plan, chosen),
    channel: choice.channel,
    channels: choice.channels,
    blocks: blocks.own,
    companions: choice.companions.map((channel, i) => ({
      channel,
      blocks: blocks.companions[i] ?? blocks.own,
    })),
    opening: part.opening,
    dialect: plan.dialect,
    preamble: plan.preamble,
    remarks: [
      ...plan.remarks,
      ...partRemarks(chosen),
      ...part.tally.remarks(part.samples, part.duration, rate),
    ],
  };
}

function startOf(plan: Plan, { part, number }: ChosenPart): string | null {
  const { cells, zone, startedAt } = plan.time;
  if (cells.kind === 'clock' && cells.date !== null) {
    return isoMoment(cells.firstDay, part.firstRaw + part.firstTime + (zone ?? 0), zone);
  }
  return number === 1 ? startedAt : null;
}

function partRemarks({ part, number, count, listed }: ChosenPart): Remark[] {
  if (count < 2) return [];
  const list = listed.map(({ line, duration }) => `line ${line} (${Number(duration.toPrecision(4))} s)`);
  return [
    {
      code: 'header-repeated',
      severity: 'caution',
      message: `The logger began ${count} times: ${list.join(', ')}${count > listed.length ? ' and more' : ''}; part ${number} from line ${part.firstLine} was taken${number === count ? '' : `, ${count - number} more follow`}.`,
      action: `Without --part the longest part is taken; choose one with --part 1 to ${count}.`,
    },
  ];
}
