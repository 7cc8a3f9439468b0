import type { Interval } from '../quantity/index.ts';

/** A recording as the class sees it: where it comes from and what came of it. */
export interface ClassRecording {
  readonly path: string;
  /** The earlier term that it is of; null for this one. */
  readonly term: string | null;
  /** Where it was recorded. */
  readonly section: string | null;
  readonly group: string | null;
  readonly bench: string | null;
  /** Where its group belongs by the roster; null for what the roster does not say. */
  readonly home: { readonly section: string | null; readonly bench: string | null };
  /** Groups whose data its group may use, by the roster. */
  readonly borrows: readonly string[];
  readonly body: string;
  readonly flow: string;
  readonly repeat: number | null;
  /** Day of recording as 2026-10-05; null where the file does not say. */
  readonly day: string | null;
  readonly timeConstant: ClassTimeConstant | null;
  /** By theory, s, > 0; null where there is no prediction. */
  readonly predicted: number | null;
  /** Whether it counts: not rejected, not to be repeated, no copy of another. */
  readonly counts: boolean;
  /** Why not, in words; null where it counts. */
  readonly reason: string | null;
  /** SHA-256 of the file, hexadecimal; null where it is not known. */
  readonly sha256: string | null;
  /** How the chain was set, in words; null where it is not known. */
  readonly chain: string | null;
  /** Of the cooling, °C; null where there is none. */
  readonly ambient: number | null;
  readonly sketch: TraceSketch | null;
}

/** A time constant with standard uncertainties of its logarithm. */
interface ClassTimeConstant {
  /** s, > 0. */
  readonly value: number;
  /** From what differs from trial to trial. */
  readonly own: number;
  /** From what all trials of a group have in common. */
  readonly shared: number;
  readonly degreesOfFreedom: number;
}

/**
 * What is a trace's own: its residuals from the fitted exponential as means over equal cells of time over the time
 * constant, from the heat going off. Whatever is done to the scale, the unit, or the name of a file leaves it as it is.
 */
export interface TraceSketch {
  /** In any unit; NaN where the recording has nothing. */
  readonly residuals: readonly number[];
}

/** A recording that counts. */
export type Counting = ClassRecording & { readonly timeConstant: ClassTimeConstant };

export function isCounting(recording: ClassRecording): recording is Counting {
  return recording.counts && recording.timeConstant !== null && recording.timeConstant.value > 0;
}

/** A group's name; a recording without a group stands for itself. */
export const groupName = ({ group, path }: Pick<ClassRecording, 'group' | 'path'>): string => group ?? path;

/** One name for body and flow together. */
export const conditionKey = ({ body, flow }: Pick<ClassRecording, 'body' | 'flow'>): string =>
  JSON.stringify([body, flow]);

/** Things by name, in the order in which the names come. */
export function groupedByName<T>(things: readonly T[], nameOf: (thing: T) => string): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const thing of things) {
    const name = nameOf(thing);
    const own = found.get(name);
    if (own === undefined) found.set(name, [thing]);
    else own.push(thing);
  }
  return found;
}

/** Part of one as percent: `4.2 %`. */
export const percentWords = (part: number): string =>
  part > 0 ? `${Number((100 * part).toPrecision(2))} %` : '0 %';

/** A standard deviation of ln as a part in percent, with its interval where there is one: `3.3 % (1.7 to 21)`. */
export function spreadWords(part: number, interval: Interval | null): string {
  if (interval === null) return percentWords(part);
  const [low, high] = interval.map((end) => percentWords(end).replace(/ %$/, ''));
  // It breaks before the bracket, not within.
  return `${percentWords(part)} (${low}\u00a0to\u00a0${high})`;
}

/** Difference of logarithms as percent with its sign: `+4.3 %`. */
export const departureWords = (logs: number): string => {
  const part = 100 * Math.expm1(logs);
  return `${part < 0 ? '−' : '+'}${Number(Math.abs(part).toPrecision(2))} %`;
};
