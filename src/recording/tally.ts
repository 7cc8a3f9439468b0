import type { Remark } from '../remark/index.ts';
import type { Mark } from './number.ts';
import { OverloadRuns } from './overload.ts';

/** Why a sample or a line was left out. */
export type Loss =
  | Exclude<Mark, 'text'>
  | 'unreadable'
  | 'no time'
  | 'out of order'
  | 'text line'
  | 'too many cells'
  | 'too few cells'
  | 'cut off';

interface Count {
  count: number;
  /** The first lines concerned, at most three. */
  lines: number[];
}

interface Gap {
  readonly at: number;
  readonly length: number;
  readonly line: number;
}

/** What was dropped and repaired in one part, as plain data. Runs of overload marks are not in it. */
export interface TallyState {
  readonly losses: readonly (readonly [what: Loss, count: number, lines: readonly number[]])[];
  readonly repairs: readonly (readonly [what: Repair, count: number, lines: readonly number[]])[];
  /** The longest, the longest first. */
  readonly gaps: readonly Gap[];
  readonly gapCount: number;
  /** s */
  readonly gapTotal: number;
  readonly uneven: number;
}

/** Repairs of the time column. */
export type Repair =
  | 'midnight'
  | 'clock put forward'
  | 'clock put back'
  | 'ran backwards'
  | 'repeated'
  | 'full hour'
  | 'rolled over';

const longestGaps = 5;

/** Counts what was dropped and repaired in one part of a recording, in bounded memory. */
export class Tally {
  #losses = new Map<Loss, Count>();
  #repairs = new Map<Repair, Count>();
  #gaps: Gap[] = [];
  #gapCount = 0;
  #gapTotal = 0;
  #overloads = new OverloadRuns();
  uneven = 0;

  clone(): Tally {
    const copy = new Tally();
    copy.#losses = copied(this.#losses);
    copy.#repairs = copied(this.#repairs);
    copy.#gaps = [...this.#gaps];
    copy.#gapCount = this.#gapCount;
    copy.#gapTotal = this.#gapTotal;
    copy.#overloads = this.#overloads.clone();
    copy.uneven = this.uneven;
    return copy;
  }

  /** Everything but the runs of overload marks. */
  state(): TallyState {
    return {
      losses: listed(this.#losses),
      repairs: listed(this.#repairs),
      gaps: [...this.#gaps],
      gapCount: this.#gapCount,
      gapTotal: this.#gapTotal,
      uneven: this.uneven,
    };
  }

  /** Takes over what another one counted; runs of overload marks stay as they are. */
  restore({ losses, repairs, gaps, gapCount, gapTotal, uneven }: TallyState): void {
    this.#losses = counted(losses);
    this.#repairs = counted(repairs);
    this.#gaps = [...gaps];
    this.#gapCount = gapCount;
    this.#gapTotal = gapTotal;
    this.uneven = uneven;
  }

  lose(what: Loss, line: number): void {
    count(this.#losses, what, line);
  }

  repair(what: Repair, line: number): void {
    count(this.#repairs, what, line);
  }

  /**
   * Follows the runs of overload marks; `lose` counts them.
   *
   * @param time of the mark, s from the first usable sample
   * @param samples usable samples so far
   */
  overload(time: number, samples: number): void {
    this.#overloads.add(time, samples);
  }

  /** @param at start of the gap, s; @param length s; @param line of the first row behind it */
  gap(at: number, length: number, line: number): void {
    this.#gapCount++;
    this.#gapTotal += length;
    const shortest = this.#gaps.at(-1);
    if (this.#gaps.length === longestGaps && shortest !== undefined && shortest.length >= length) return;
    this.#gaps.push({ at, length, line });
    this.#gaps.sort((a, b) => b.length - a.length);
    this.#gaps.length = Math.min(this.#gaps.length, longestGaps);
  }

  /**
   * @param samples usable samples
   * @param duration s
   * @param rate Hz
   */
  remarks(samples: number, duration: number, rate: number): Remark[] {
    return [
      ...this.#lossRemarks(samples),
      ...this.#overloads.remarks(),
      ...this.#repairRemarks(samples),
      ...this.#gapRemarks(duration),
      ...this.#unevenRemarks(samples, rate),
    ];
  }

  #lossRemarks(samples: number): Remark[] {
    let lost = 0;
    let comments = 0;
    const parts: string[] = [];
    for (const [what, { count, lines }] of this.#losses) {
      if (what === 'text line') comments += count;
      else lost += count;
      parts.push(`${count} ${lossName(what, count)} (${places(lines, count)})`);
    }
    if (parts.length === 0) return [];
    const share = lost / Math.max(1, lost + samples);
    return [
      {
        code: 'samples-dropped',
        severity: share > 0.01 ? 'caution' : 'note',
        message: `Left out: ${parts.join('; ')}${lost > 0 ? `; in all ${percent(share)} of the samples` : ''}.`,
        action:
          share > 0.01
            ? 'Look at these lines; if the sensor was disconnected or overloaded, repeat the recording.'
            : comments > 0 && lost === 0
              ? 'If these lines are comments, nothing is missing.'
              : 'Outside the cooling this does no harm; look whether these lines lie in it.',
      },
    ];
  }

  #repairRemarks(samples: number): Remark[] {
    const parts: string[] = [];
    let serious = false;
    for (const [what, { count, lines }] of this.#repairs) {
      parts.push(`${repairName(what, count)} (${places(lines, count)})`);
      if (what === 'ran backwards' || (what === 'repeated' && count > 0.01 * samples)) serious = true;
    }
    if (parts.length === 0) return [];
    return [
      {
        code: 'time-repaired',
        severity: serious ? 'caution' : 'note',
        message: `The time column was straightened: ${parts.join('; ')}.`,
        action: serious
          ? 'Check the time base against a stopwatch.'
          : 'Nothing is to be done: elapsed time goes on across these lines.',
      },
    ];
  }

  #gapRemarks(duration: number): Remark[] {
    const [longest] = this.#gaps;
    if (longest === undefined) return [];
    const list = [...this.#gaps]
      .sort((a, b) => a.at - b.at)
      .map((gap) => `${seconds(gap.length)} at ${seconds(gap.at)} (line ${gap.line})`);
    const more =
      this.#gapCount > this.#gaps.length ? `; the longest: ${list.join(', ')}` : `: ${list.join(', ')}`;
    return [
      {
        code: 'gaps',
        severity: this.#gapTotal > 0.01 * duration ? 'caution' : 'note',
        message: `${this.#gapCount} ${this.#gapCount === 1 ? 'gap' : 'gaps'} in time, ${seconds(this.#gapTotal)} in all${more}.`,
        action: 'Nothing was filled in. The analysis says whether a gap lies in the cooling.',
        at: { from: longest.at, to: longest.at + longest.length },
      },
    ];
  }

  #unevenRemarks(samples: number, rate: number): Remark[] {
    const share = this.uneven / Math.max(1, samples);
    if (share < 0.01) return [];
    return [
      {
        code: 'sampling-uneven',
        severity: share > 0.2 ? 'caution' : 'note',
        message: `${percent(share)} of the time steps are far from the usual ${seconds(1 / rate)}.`,
        action: 'Times were taken as they stand; let the logger sample by its own clock, if it can.',
      },
    ];
  }
}

function copied<K>(counts: ReadonlyMap<K, Count>): Map<K, Count> {
  return new Map([...counts].map(([key, { count, lines }]) => [key, { count, lines: [...lines] }]));
}

function listed<K>(counts: ReadonlyMap<K, Count>): [K, number, number[]][] {
  return [...counts].map(([key, { count, lines }]) => [key, count, [...lines]]);
}

function counted<K>(list: readonly (readonly [K, number, readonly number[]])[]): Map<K, Count> {
  return new Map(list.map(([key, count, lines]) => [key, { count, lines: [...lines] }]));
}

function count<K>(counts: Map<K, Count>, key: K, line: number): void {
  const entry = counts.get(key);
  if (entry === undefined) counts.set(key, { count: 1, lines: [line] });
  else {
    entry.count++;
    if (entry.lines.length < 3) entry.lines.push(line);
  }
}

function lossName(what: Loss, n: number): string {
  const names: Record<Loss, [string, string]> = {
    blank: ['blank value', 'blank values'],
    'not-a-number': ['not-a-number mark', 'not-a-number marks'],
    overload: ['overload mark', 'overload marks'],
    unreadable: ['unreadable value', 'unreadable values'],
    'no time': ['row without a readable time', 'rows without a readable time'],
    'out of order': ['row out of order in time', 'rows out of order in time'],
    'text line': ['line of text among the numbers', 'lines of text among the numbers'],
    'too many cells': ['row with too many cells', 'rows with too many cells'],
    'too few cells': ['row with too few cells', 'rows with too few cells'],
    'cut off': ['incomplete last line', 'incomplete last lines'],
  };
  return names[what][n === 1 ? 0 : 1];
}

function repairName(what: Repair, n: number): string {
  const times = n === 1 ? 'once' : `${n} times`;
  switch (what) {
    case 'midnight':
      return `the time of day passed midnight ${times}`;
    case 'full hour':
      return `the minutes and seconds passed a full hour ${times}`;
    case 'clock put forward':
      return `the clock was put forward an hour ${times}`;
    case 'clock put back':
      return `the clock was put back an hour ${times}`;
    case 'ran backwards':
      return `the time ran backwards ${times}`;
    case 'rolled over':
      return `the logger's 32-bit counter began again at zero ${times} and was continued`;
    case 'repeated':
      return `a time stamp repeated ${times}`;
  }
}

function places(lines: readonly number[], n: number): string {
  return `${lines.length === 1 ? 'line' : 'lines'} ${lines.join(', ')}${n > lines.length ? ' and more' : ''}`;
}

function seconds(x: number): string {
  return `${Number(x.toPrecision(5))} s`;
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}
