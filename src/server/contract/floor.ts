import { z } from 'zod';
import { advice, forecast, gate, series } from './parts.ts';

const number = z.number().nullable();
const condition = z.object({ body: z.string(), flow: z.string() }).nullable();
/** What is in the way, and the mend. */
const trouble = z.object({ message: z.string(), mend: z.string() }).nullable();

/** Something that a trial has to pass, and how it stands. */
const floorGate = gate.extend({
  source: z.enum(['protocol', 'common-practice', 'statistics', 'earlier-trials', 'theory']),
});

/** A trial while it is recorded. Times in s from the first reading, temperatures in °C. */
const trial = z.object({
  phase: z.enum(['waiting', 'baseline', 'heating', 'cooling', 'done']),
  since: z.number(),
  time: z.number(),
  temperature: number,
  errorFraction: number,
  heatOff: number,
  timeConstant: z.object({ value: z.number(), standardUncertainty: z.number() }).nullable(),
  forecast,
  gates: z.array(floorGate),
  advice,
  /** The whole trial so far, thinned. */
  series,
});

const finished = z.object({
  path: z.string(),
  condition,
  repeat: number,
  timeConstant: number,
  standardUncertainty: number,
  verdict: z.enum(['usable', 'usable-with-remarks', 'repeat', 'unreadable']),
  words: z.string(),
});

const tile = z.object({
  bench: z.string(),
  group: z.string().nullable(),
  section: z.string().nullable(),
  condition,
  repeat: number,
  /** Of the file that is followed. */
  path: z.string().nullable(),
  trial: trial.nullable(),
  trouble,
  /** s since the file last grew. */
  quiet: number,
  /** Trials of this session that are done. */
  trials: z.array(finished),
  /** Checks of the rig that failed or are too old, as sentences. */
  rig: z.array(z.string()),
});

/** The benches at one moment; as an event, of the tiles those that are not as they were. */
export const floorView = z.object({
  /** ISO 8601. */
  at: z.string(),
  /** Codes of all benches, in their order. */
  names: z.array(z.string()),
  benches: z.array(tile),
  /** Benches to walk to, the most urgent first. */
  calls: z.array(z.object({ bench: z.string(), urgency: z.number(), why: z.string() })),
  /** Times in s. */
  session: z.object({
    elapsed: number,
    length: number,
    remaining: number,
    left: z.array(
      z.object({
        bench: z.string(),
        condition: z.object({ body: z.string(), flow: z.string() }),
        trials: z.number(),
        fits: z.boolean(),
      }),
    ),
    message: z.string(),
  }),
  trouble,
});

export type FloorView = z.infer<typeof floorView>;
export type TileView = z.infer<typeof tile>;
export type TrialView = z.infer<typeof trial>;
export type CallView = FloorView['calls'][number];
