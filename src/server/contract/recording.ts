import { z } from 'zod';
import { interval, place, remark, span, verdict } from './parts.ts';
import { fileReading, readOptions } from './upload.ts';

const timeConstant = z.object({
  value: z.number(),
  standardUncertainty: z.number(),
  interval,
  coverage: z.number(),
  degreesOfFreedom: z.number(),
  method: z.string(),
});

/** A recording in a list: enough for a cell of the grid. */
const summary = z.object({
  path: z.string(),
  place,
  /** `writing`: its file still grows; it is analyzed when it rests. */
  state: z.enum(['waiting', 'writing', 'analyzed', 'unreadable']),
  /** Why it could not be read; null where it could. */
  message: z.string().nullable(),
  /** What does not count of what was decided about it, and why; null where all does. */
  note: z.string().nullable(),
  timeConstant: timeConstant.nullable(),
  verdict: verdict.nullable(),
  /** Codes of the cautions, of what asks for a repeat, and of what the checks of its rig say. */
  codes: z.array(z.string()),
  /** ln of the error fraction against time over the time constant, at most 40 points. */
  strip: z.object({ x: z.array(z.number()), y: z.array(z.number()) }).nullable(),
  /** Whether a person judged it: moved its marks or took it out; and whether it is taken out. */
  decided: z.boolean(),
  rejected: z.boolean(),
  /** The recording that it is a copy of, byte for byte. */
  copyOf: z.string().nullable(),
  duration: z.number().nullable(),
  startedAt: z.string().nullable(),
});

export const recordingList = z.object({
  recordings: z.array(summary),
  /** Files whose paths do not say what they are of. */
  unplaced: z.array(z.object({ path: z.string(), message: z.string() })),
  progress: z.object({ done: z.number(), total: z.number() }),
});

/** Where a recording is cut; null leaves what is found. */
export const marks = z.object({
  baseline: span.nullable(),
  cooling: span.nullable(),
  /** Which heating counts, from 1. */
  heating: z.int().min(1).max(100).nullable(),
});

/** What a person decided about a recording. */
export const decision = z.object({
  id: z.string(),
  /** ISO 8601 with zone. */
  at: z.string(),
  who: z.string(),
  why: z.string(),
  kind: z.enum(['marks', 'reject', 'reading', 'undo']),
  marks: marks.nullable(),
  /** How the file is to be read; null but for `reading`. */
  read: readOptions.nullable(),
  /** The decision that is taken back; null but for `undo`. */
  undoes: z.string().nullable(),
  /** Whether it counts now: not undone, not replaced by a later one. */
  applies: z.boolean(),
  /** Why it does not count; null where it does. */
  note: z.string().nullable().optional(),
});

export const decisionRequest = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('marks'),
    marks,
    who: z.string().trim().min(1).max(60),
    why: z.string().trim().min(1).max(500),
  }),
  z.object({
    kind: z.literal('reject'),
    who: z.string().trim().min(1).max(60),
    why: z.string().trim().min(1).max(500),
  }),
  z.object({
    kind: z.literal('reading'),
    read: readOptions,
    who: z.string().trim().min(1).max(60),
    why: z.string().trim().max(500),
  }),
  z.object({
    kind: z.literal('undo'),
    undoes: z.string().max(60),
    who: z.string().trim().min(1).max(60),
    why: z.string().trim().max(500),
  }),
]);

/** How a recording's file is read, and what was decided about it: also where it cannot be read. */
export const recordingReading = fileReading.extend({ decisions: z.array(decision) });

const spanOrNull = span.nullable();
const numbers = z.array(z.number());

/** What the figure of a recording is drawn from: `TraceFigureData` of the figure room. */
const figureData = z.object({
  name: z.string(),
  headline: z.string(),
  verdict: z.string(),
  time: numbers,
  temperature: numbers,
  envelope: z.object({ low: numbers, high: numbers }),
  segments: z.object({
    baseline: spanOrNull,
    heating: spanOrNull,
    hotTail: spanOrNull,
    cooling: spanOrNull,
    window: spanOrNull,
    heatOff: z.number().nullable(),
    peak: z.object({ time: z.number(), temperature: z.number() }).nullable(),
  }),
  ambient: z.object({ value: z.number(), u: z.number() }).nullable(),
  fit: z
    .object({
      tStart: z.number(),
      a: z.number(),
      b: z.number(),
      c: z.number(),
      tb: z.number(),
      tau: z.number(),
    })
    .nullable(),
  timeConstant: z.object({ value: z.number(), interval }).nullable(),
  limits: interval,
  points: z.array(z.object({ time: z.number(), errorFraction: z.number(), fitted: z.number() })),
  remarks: z.array(remark),
});

const estimate = z.object({
  method: z.enum(['point-36.8', 'log-linear-origin', 'log-linear-intercept', 'exponential-fit']),
  value: z.number(),
  standardUncertainty: z.number(),
  interval,
  classroom: z
    .object({ value: z.number(), standardError: z.number().nullable(), interval: interval.nullable() })
    .nullable(),
});

/** Everything that the page shows of one recording. Times in s, temperatures in °C, differences in K. */
export const detail = summary.extend({
  file: z.object({ sha256: z.string(), bytes: z.number(), name: z.string() }),
  read: z.object({
    samples: z.number(),
    rate: z.number(),
    dialect: z.string(),
    channel: z.string(),
    unit: z.string().nullable(),
    conversion: z.string(),
  }),
  figure: figureData,
  residuals: z.array(z.object({ time: z.number(), residual: z.number(), band: z.number() })),
  /** Correlation of the residuals from block to block; `limit` is what chance stays below in 95 % of cases. */
  correlation: z.array(z.object({ lag: z.number(), value: z.number(), limit: z.number() })),
  estimates: z.array(estimate),
  ambient: z
    .object({ value: z.number(), standardUncertainty: z.number(), source: z.string(), reason: z.string() })
    .nullable(),
  endFraction: z.number().nullable(),
  /** Sentences: is it one exponential, do the classroom values agree, what is the noise. */
  adequacy: z.object({ firstOrder: z.boolean().nullable(), sentence: z.string() }).nullable(),
  fingerprint: z.string().nullable(),
  noise: z.string().nullable(),
  budget: z.array(
    z.object({ source: z.string(), label: z.string(), contribution: z.number(), share: z.number() }),
  ),
  remarks: z.array(remark),
  prediction: z
    .object({
      timeConstant: z.number(),
      interval: z.tuple([z.number(), z.number().nullable()]),
      /** Measured against predicted, in words. */
      sentence: z.string(),
    })
    .nullable(),
  /** Marks as found, and as used. */
  found: marks,
  used: marks,
  /** Every heating in the recording, the one used among them. */
  heatings: z.array(span),
  decisions: z.array(decision),
});

/** A stretch of readings: single ones where there are few, else thinned, with the reach of those behind a point. */
export const readings = z.object({
  time: numbers,
  value: numbers,
  low: numbers,
  high: numbers,
  raw: z.boolean(),
});

/** A step of the analysis with this recording's numbers in it. */
export const steps = z.object({
  path: z.string(),
  steps: z.array(
    z.object({
      id: z.string(),
      title: z.string(),
      /** Paragraphs of plain text. */
      text: z.array(z.string()),
      /** Formulas, in letters and with numbers, as MathML of Emberline's own making. */
      formulas: z.array(
        z.object({
          mathml: z.string(),
          plain: z.string(),
          /** Author and year, standard, or that it is common practice without a source. */
          source: z.string(),
        }),
      ),
      /** Numbers behind it. */
      table: z.object({ columns: z.array(z.string()), rows: z.array(z.array(z.string())) }).nullable(),
      result: z.string(),
      source: z.string().nullable(),
    }),
  ),
});

export type Summary = z.infer<typeof summary>;
export type RecordingList = z.infer<typeof recordingList>;
export type Marks = z.infer<typeof marks>;
export type Decision = z.infer<typeof decision>;
export type DecisionRequest = z.infer<typeof decisionRequest>;
export type Detail = z.infer<typeof detail>;
export type RecordingReading = z.infer<typeof recordingReading>;
export type Readings = z.infer<typeof readings>;
export type Steps = z.infer<typeof steps>;
