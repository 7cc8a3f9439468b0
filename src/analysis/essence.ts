import { z } from 'zod';
import { type Condition, type Experiment, runOf } from '../experiment/index.ts';
import { readOptionsWords } from '../recording/index.ts';
import type { DecisionHistory } from '../store/index.ts';
import type { AnalyzedFile } from './analyze-file.ts';
import type { Outcome } from './pool.ts';
import { cautionsOf, leftOutNotes, type RecordingNote } from './recording-notes.ts';
import { decaySketch } from './sketch.ts';
import { stated } from './stated.ts';
import { decayStrip } from './strip.ts';

const finite = z.number();
const positive = z.number().positive();
/** Of JSON, which has no numbers but finite ones; a class has a hundred thousand of them. */
const numbers = z.custom<number[]>((x) => Array.isArray(x) && x.every(Number.isFinite), {
  error: 'is no list of numbers',
});
const numbersOrGaps = z.custom<(number | null)[]>(
  (x) => Array.isArray(x) && x.length <= 256 && x.every((one) => one === null || Number.isFinite(one)),
  { error: 'is no list of at most 256 numbers' },
);

const method = z.enum(['point-36.8', 'log-linear-origin', 'log-linear-intercept', 'exponential-fit']);

/** What lists and comparisons need of an analysis. */
export const essenceSchema = z.object({
  timeConstant: z
    .object({
      value: positive,
      standardUncertainty: finite,
      interval: z.tuple([finite, finite]),
      coverage: finite,
      degreesOfFreedom: finite,
      method,
    })
    .nullable(),
  verdict: z.enum(['usable', 'usable-with-remarks', 'repeat']),
  codes: z.array(z.string()),
  strip: z.object({ x: numbers, y: numbers }).nullable(),
  /** What is left over by the fit, in cells of time over the time constant; null where there is none, or none was kept. */
  sketch: numbersOrGaps.nullable().default(null),
  /** How readings were taken as degrees, in words; null where it was not kept. */
  chain: z.string().max(300).nullable().default(null),
  duration: finite,
  startedAt: z.string().nullable(),
  /** Standard uncertainties of ln tau from what differs between runs and from what they share; null if it does not count. */
  run: z.object({ own: finite, shared: finite }).nullable(),
  noise: z.object({ white: finite, correlated: finite, correlationTime: finite }).nullable(),
  /** Of the cooling, °C; null where there is none, or it was kept before it was asked for. */
  ambient: finite.nullable().default(null),
  /** What tables of results tell besides; null where it was not kept. */
  beside: z
    .object({
      rate: finite,
      samples: finite,
      estimates: z.array(
        z.object({
          method,
          value: finite,
          standardUncertainty: finite,
          classroom: z.object({ value: finite, standardError: finite.nullable() }).nullable(),
        }),
      ),
      ambient: z.object({ value: finite, standardUncertainty: finite }).nullable(),
      endFraction: finite.nullable(),
      firstOrder: z.boolean().nullable(),
    })
    .nullable()
    .default(null),
  /** Why it does not count; null where it does. */
  excluded: z.string().nullable(),
  cautions: z.array(
    z.object({ code: z.string(), severity: z.enum(['note', 'caution', 'repeat']), message: z.string() }),
  ),
  /** Remarks that are more than notes, in full; null where they were not kept. */
  graver: z
    .array(
      z.object({
        code: z.string(),
        severity: z.enum(['note', 'caution', 'repeat']),
        message: z.string(),
        action: z.string(),
      }),
    )
    .nullable()
    .default(null),
});

/** What is kept of an analysis for the list. */
export type Essence = z.output<typeof essenceSchema>;

/** What is kept of an analysis. */
export function essenceOf({ recording, trace, decay }: AnalyzedFile): Essence {
  const { noise, remarks, verdict } = decay;
  const run = verdict === 'repeat' ? null : runOf('', decay);
  const graver = remarks.filter(({ severity }) => severity !== 'note');
  return {
    timeConstant: decay.timeConstant === null ? null : stated(decay.timeConstant),
    verdict,
    codes: [...new Set(graver.map(({ code }) => code))],
    strip: decayStrip(decay),
    sketch: decaySketch(decay),
    chain: trace.described.slice(0, 300),
    duration: recording.duration,
    startedAt: recording.startedAt,
    run: run === null ? null : { own: run.own, shared: run.shared },
    noise:
      noise === null
        ? null
        : { white: noise.white, correlated: noise.correlated, correlationTime: noise.correlationTime },
    ambient: decay.ambient?.value ?? null,
    beside: besideOf(recording, decay),
    excluded: run === null ? whyExcluded(remarks) : null,
    cautions: cautionsOf(decay),
    graver: graver.map(({ code, severity, message, action }) => ({ code, severity, message, action })),
  };
}

function besideOf(
  { rate, samples }: AnalyzedFile['recording'],
  { estimates, ambient, endFraction, adequacy }: AnalyzedFile['decay'],
): Essence['beside'] {
  return {
    rate,
    samples,
    estimates: estimates.map(({ method, value, standardUncertainty, classroom }) => ({
      method,
      value,
      standardUncertainty,
      classroom:
        classroom === null ? null : { value: classroom.value, standardError: classroom.standardError },
    })),
    ambient:
      ambient === null ? null : { value: ambient.value, standardUncertainty: ambient.standardUncertainty },
    endFraction,
    firstOrder: adequacy?.firstOrder ?? null,
  };
}

function whyExcluded(remarks: AnalyzedFile['decay']['remarks']): string {
  return remarks.find(({ severity }) => severity === 'repeat')?.message ?? 'It has no time constant.';
}

/** What a kept analysis brings to the whole folder. */
export function outcomeFrom(
  experiment: Experiment,
  path: string,
  condition: Condition,
  sha256: string,
  essence: Essence,
): Outcome {
  const { timeConstant, run, noise, verdict, excluded, cautions } = essence;
  return {
    run:
      run === null || timeConstant === null
        ? null
        : {
            name: path,
            timeConstant: timeConstant.value,
            ...run,
            degreesOfFreedom: timeConstant.degreesOfFreedom,
          },
    noise,
    sha256,
    recording: {
      path,
      condition,
      timeConstant: timeConstant?.value ?? null,
      verdict,
      excluded,
      copyOf: null,
      notes: [...leftOutNotes(experiment, condition), ...cautions],
    },
  };
}

/** An outcome as a person's decisions leave it: taken out, or with a word on what it rests on. */
export function decidedOutcome(outcome: Outcome, history: DecisionHistory): Outcome {
  const { rejected } = history;
  if (rejected !== null) {
    const excluded = `${rejected.who} took it out: ${rejected.why}`;
    return { ...outcome, run: null, recording: { ...outcome.recording, excluded } };
  }
  const notes = [...outcome.recording.notes, ...restsOn(history)];
  return { ...outcome, recording: { ...outcome.recording, notes } };
}

function restsOn({ decisions }: DecisionHistory): RecordingNote[] {
  return decisions.flatMap(({ kind, applies, who, why, read }): RecordingNote[] => {
    if (!applies) return [];
    if (kind === 'marks') {
      const message = `It rests on marks that ${who} moved: ${why}`;
      return [{ code: 'marks-moved', severity: 'note', message }];
    }
    if (read === null) return [];
    const message = `It is read as ${who} said, ${readOptionsWords(read)}${why === '' ? '' : `: ${why}`}`;
    return [{ code: 'reading-corrected', severity: 'note', message }];
  });
}
