import { z } from 'zod';

/** Which section to roll up; the whole class where it is left out. */
export const classQuery = z.object({ section: z.string().min(1).max(100).optional() });

const list = <S extends z.ZodType>(schema: S) => z.array(schema).readonly();
const paths = list(z.string());
const range = z.tuple([z.number(), z.number()]).readonly();
const condition = z.object({ body: z.string(), flow: z.string() });

const group = z.object({
  group: z.string(),
  section: z.string().nullable(),
  timeConstant: z.number(),
  interval: range,
  trials: z.number(),
  paths,
  score: z.number(),
  lookAgain: z.boolean(),
  otherBody: z.boolean(),
});

const precision = z.object({
  mean: z.number(),
  groups: z.number(),
  results: z.number(),
  repeatability: z.number().nullable(),
  repeatabilityInterval: range.nullable(),
  between: z.number(),
  reproducibility: z.number(),
  reproducibilityInterval: range,
  degreesOfFreedom: z.object({ within: z.number(), between: z.number() }),
});

const conditionSummary = condition.extend({
  predicted: z.number().nullable(),
  groups: list(group),
  location: z.number(),
  /** Null for one of two groups, which tell no spread. */
  interval: range.nullable(),
  scale: z.number(),
  band: range.nullable(),
  spread: z.enum(['this-class', 'earlier-terms']),
  precision: precision.nullable(),
  earlier: z.object({ location: z.number(), groups: z.number(), terms: z.number() }).nullable(),
  sentence: z.string(),
});

const causes = z.object({
  of: z.enum(['measured/predicted', 'measured/class']),
  factors: list(
    z.object({
      factor: z.string(),
      deviation: z.number(),
      /** Without an upper end where so few levels tell none. */
      interval: z.tuple([z.number(), z.number().nullable()]).readonly(),
      levels: z.number(),
      share: z.number(),
      evidence: z.number(),
      /** Whether it stands out beyond chance. */
      shows: z.boolean(),
      effects: list(z.object({ level: z.string(), effect: z.number() })),
    }),
  ),
  alike: list(z.tuple([z.string(), z.string()]).readonly()),
  without: list(condition),
  residual: z.number(),
  mean: z.number(),
  standardUncertainty: z.number(),
  results: z.number(),
  sentence: z.string(),
});

/** A class rolled up: times in s, spreads as standard deviations of ln tau. */
export const classView = z.object({
  recordings: z.number(),
  counting: z.number(),
  /** Recordings that wait to be analyzed. */
  waiting: z.number(),
  sections: list(z.string()),
  conditions: list(conditionSummary),
  groups: list(
    z.object({
      group: z.string(),
      departure: z.number(),
      score: z.number(),
      lookAgain: z.boolean(),
      trials: z.number(),
      conditions: z.number(),
      paths,
    }),
  ),
  causes: causes.nullable(),
  lookAgain: list(
    z.object({
      kind: z.enum(['same-trace', 'label', 'apart', 'whole']),
      groups: list(z.string()),
      body: z.string().nullable(),
      flow: z.string().nullable(),
      paths,
      score: z.number().nullable(),
      sentence: z.string(),
    }),
  ),
  sameTraces: list(
    z.object({
      paths: z.tuple([z.string(), z.string()]).readonly(),
      term: z.string().nullable(),
      groups: list(z.string()),
      by: z.enum(['bytes', 'shape']),
      correlation: z.number(),
      acrossGroups: z.boolean(),
      borrowed: z.boolean(),
      sentence: z.string(),
    }),
  ),
  labels: list(
    z.object({
      path: z.string(),
      group: z.string().nullable(),
      body: z.string(),
      flow: z.string(),
      looksLike: z.string(),
      exchangedWith: z.string().nullable(),
      sentence: z.string(),
    }),
  ),
  labelsChecked: z.number(),
  sketched: z.number(),
  chains: list(
    z.object({
      kind: z.enum(['set', 'shows']),
      paths,
      bench: z.string().nullable(),
      sentence: z.string(),
    }),
  ),
  visits: list(
    z.object({
      kind: z.enum(['guest', 'other-bench', 'make-up']),
      group: z.string(),
      paths,
      sentence: z.string(),
    }),
  ),
  left: list(z.object({ path: z.string(), reason: z.string() })),
  earlier: z.object({ terms: list(z.string()), recordings: z.number() }),
  /** Folders of earlier terms of which nothing could be used, and why. */
  troubles: list(z.object({ folder: z.string(), message: z.string() })),
  privacy: z.string().nullable(),
});

export type ClassView = z.infer<typeof classView>;
