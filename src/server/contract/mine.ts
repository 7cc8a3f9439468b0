import { z } from 'zod';
import { submittedQuantities } from '../../experiment/index.ts';
import { advice, forecast, gate, series, verdict } from './parts.ts';

const number = z.number().nullable();
const trouble = z.object({ message: z.string(), mend: z.string() }).nullable();
const quantity = z.enum(submittedQuantities);

/** The trial on the group's bench. Times in s from the first reading, temperatures in °C; no time constant. */
const trial = z.object({
  phase: z.enum(['waiting', 'baseline', 'heating', 'cooling', 'done']),
  time: z.number(),
  temperature: number,
  errorFraction: number,
  heatOff: number,
  forecast,
  gates: z.array(gate),
  advice,
  series,
});

/** The group's bench at one moment. */
export const mineNow = z.object({
  /** ISO 8601. */
  at: z.string(),
  condition: z.object({ body: z.string(), flow: z.string() }).nullable(),
  repeat: number,
  trial: trial.nullable(),
  trouble,
  /** s since the file last grew. */
  quiet: number,
  /** What the checks of the rig on this bench say, as sentences. */
  rig: z.array(z.string()),
  /** Times of the session in s, as far as they are known. */
  elapsed: number,
  remaining: number,
});

const ownRecording = z.object({
  path: z.string(),
  /** Its last part. */
  name: z.string(),
  body: z.string().nullable(),
  flow: z.string().nullable(),
  repeat: number,
  state: z.enum(['waiting', 'writing', 'unreadable', 'set-aside', ...verdict.options]),
  /** The same in words, with the reason. */
  words: z.string(),
  remarks: z.array(
    z.object({
      severity: z.enum(['note', 'caution', 'repeat']),
      message: z.string(),
      action: z.string().nullable(),
    }),
  ),
});

/** What a group sees of the experiment: itself, and nothing that it is to work out. */
export const mineView = z.object({
  group: z.string(),
  section: z.string().nullable(),
  bench: z.string().nullable(),
  course: z.string().nullable(),
  session: z.object({ start: z.string().nullable(), length: number }),
  /** Temperatures in °C, the baseline in s; `repeats` trials of each condition. */
  protocol: z.object({
    baseline: z.number(),
    target: number,
    limit: number,
    endFraction: z.number(),
    repeats: z.number(),
  }),
  /** In the order of the plan. */
  conditions: z.array(
    z.object({
      body: z.string(),
      flow: z.string(),
      /** Usable recordings of it. */
      done: z.number(),
      /** Whether the plan of the session has time for it. */
      fits: z.boolean(),
    }),
  ),
  recordings: z.array(ownRecording),
  /** What is to be handed in, with what each is called and its unit. */
  asked: z.array(z.object({ quantity, name: z.string(), unit: z.string() })),
  /** ISO 8601. */
  handedIn: z.object({ at: z.string(), values: z.number() }).nullable(),
  released: z.boolean(),
});

const sheetFault = z.object({
  line: number,
  column: z.string().nullable(),
  message: z.string(),
  action: z.string(),
});

/** The values that count, as the group wrote them. */
const mineSubmission = z.object({
  at: z.string(),
  rows: z.array(
    z.object({
      recording: z.string().nullable(),
      about: z.string(),
      note: z.string(),
      values: z.array(z.object({ quantity, written: z.string() })),
    }),
  ),
  faults: z.array(sheetFault),
});

/** What was handed in, or that nothing was. */
export const mineHandedIn = z.object({ submission: mineSubmission.nullable() });

/** What a group hears once the results are released. */
export const mineFeedback = z.object({
  /** Text with headings and emphasis; null where nothing was handed in, or the texts of the course have a fault. */
  text: z.string().nullable(),
  recordings: z.array(
    z.object({
      name: z.string(),
      body: z.string().nullable(),
      flow: z.string().nullable(),
      repeat: number,
      words: z.string(),
      /** s, with its standard uncertainty and the 95 % interval; null where it gives none that counts. */
      timeConstant: z
        .object({ text: z.string(), value: z.number(), standardUncertainty: z.number() })
        .nullable(),
    }),
  ),
});

export type MineView = z.infer<typeof mineView>;
export type MineNow = z.infer<typeof mineNow>;
export type MineTrial = z.infer<typeof trial>;
export type MineRecording = z.infer<typeof ownRecording>;
export type MineSubmission = z.infer<typeof mineSubmission>;
export type MineFeedback = z.infer<typeof mineFeedback>;
export type MineHandedIn = z.infer<typeof mineHandedIn>;
