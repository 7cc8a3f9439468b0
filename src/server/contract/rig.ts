import { z } from 'zod';

const kind = z.enum([
  'zero',
  'gain',
  'ice-point',
  'jet-temperature',
  'flow',
  'supply-pressure',
  'diameter',
  'mass',
]);

const check = z.object({
  id: z.string(),
  /** ISO 8601 with zone. */
  at: z.string(),
  who: z.string(),
  bench: z.string().nullable(),
  kind,
  /** Code of the body or of the flow. */
  subject: z.string().nullable(),
  /** SI; a temperature in °C, a pressure absolute. */
  value: z.number(),
  written: z.string(),
  note: z.string(),
});

const standing = z.object({
  bench: z.string().nullable(),
  kind,
  subject: z.string().nullable(),
  state: z.enum(['in-order', 'outside', 'stale', 'missing']),
  check: check.nullable(),
  expected: z.number().nullable(),
  tolerance: z.number().nullable(),
  limitWords: z.string().nullable(),
  /** s */
  goodFor: z.number(),
  source: z.enum(['experiment-file', 'common-practice', 'earlier-checks']),
  message: z.string(),
  mend: z.string().nullable(),
});

const withdrawal = z.object({ id: z.string(), at: z.string(), who: z.string(), why: z.string() });

const reference = z.object({
  id: z.string(),
  /** ISO 8601 with zone. */
  at: z.string(),
  who: z.string(),
  term: z.string(),
  bench: z.string().nullable(),
  recording: z.string(),
  body: z.string(),
  flow: z.string(),
  /** s */
  timeConstant: z.number(),
  interval: z.tuple([z.number(), z.number()]),
  expected: z
    .object({ value: z.number(), relative: z.number(), source: z.enum(['prediction', 'bench-mean']) })
    .nullable(),
  note: z.string(),
});

const limits = z.object({ centre: z.number(), lower: z.number(), upper: z.number() });

/** What is followed of a bench over the terms, with its limits; values in SI, °C, or as a ratio. */
const chart = z.object({
  bench: z.string().nullable(),
  kind: z.enum(['zero', 'gain', 'ice-point', 'jet-temperature', 'reference']),
  subject: z.string().nullable(),
  /** `at` in s since 1970. */
  points: z.array(z.object({ at: z.number(), value: z.number(), term: z.string(), id: z.string() })),
  limits: limits.nullable(),
  limitsFrom: z.number(),
  provisional: z.boolean(),
  doubt: z.number().nullable(),
  averages: z.array(z.object({ value: z.number(), lower: z.number(), upper: z.number() })).nullable(),
  outside: z.array(z.number()),
  averagesOutside: z.array(z.number()),
  change: z
    .object({
      kind: z.enum(['step', 'drift', 'spread']),
      index: z.number(),
      at: z.number(),
      size: z.number(),
      strength: z.number(),
    })
    .nullable(),
  finding: z.string(),
  sentence: z.string(),
  look: z.string().nullable(),
});

/** How the rigs of the experiment stand now, and every check that was ever made. */
export const rigView = z.object({
  /** When this is how they stand, ISO 8601. */
  at: z.string(),
  benches: z.array(z.string()),
  /** Codes that a check can be about. */
  bodies: z.array(z.string()),
  flows: z.array(z.string()),
  standings: z.array(standing),
  /** The first first. */
  checks: z.array(check),
  /** Checks that were taken back: they do not count. */
  withdrawn: z.array(withdrawal),
  /** Reference runs, the first first, and those of them that were taken back. */
  references: z.array(reference),
  referencesWithdrawn: z.array(withdrawal),
  /** Files below reference/ that could be kept as reference runs. */
  candidates: z.array(z.string()),
  /** What the present term is called. */
  term: z.string(),
  charts: z.array(chart),
  /** Folders of earlier terms that cannot be used, and why. */
  missingTerms: z.array(z.object({ written: z.string(), message: z.string() })),
});

/** The rig's own correlation of Nu and Re, or why there is none. */
export const rigCorrelationView = z.object({
  ok: z.boolean(),
  /** In words: the correlation, or why there is none and what to measure. */
  sentences: z.array(z.string()),
  /** Conditions in its range, with the time constant that it expects, s. */
  conditions: z.array(
    z.object({
      body: z.string(),
      flow: z.string(),
      value: z.number(),
      standardUncertainty: z.number(),
      interval: z.tuple([z.number(), z.number()]),
    }),
  ),
});

/** A check as it is handed in. */
export const rigCheckRequest = z.object({
  kind,
  value: z.string().max(200).describe('With its unit, such as 1.4 mV or 6.0 bar(g).'),
  bench: z.string().max(100).nullable(),
  subject: z.string().max(100).nullable(),
  who: z.string().trim().min(1).max(60),
  note: z.string().max(500),
  at: z.iso.datetime({ offset: true }).optional().describe('When it was made; now where left out.'),
});

/** A reference run as it is handed in. */
export const rigReferenceRequest = z.object({
  recording: z.string().min(1).max(1000).describe('Path from the experiment folder.'),
  bench: z.string().max(100).nullable(),
  body: z.string().max(100).nullable(),
  flow: z.string().max(100).nullable(),
  who: z.string().trim().min(1).max(60),
  note: z.string().max(500),
});

export const rigWithdrawRequest = z.object({
  id: z.string().max(60),
  who: z.string().trim().min(1).max(60),
  why: z.string().trim().min(1).max(500),
});

export type RigView = z.infer<typeof rigView>;
export type RigStandingView = z.infer<typeof standing>;
export type RigCheckView = z.infer<typeof check>;
export type RigCheckRequest = z.infer<typeof rigCheckRequest>;
export type RigCorrelationView = z.infer<typeof rigCorrelationView>;
export type RigReferenceView = z.infer<typeof reference>;
export type RigChartView = z.infer<typeof chart>;
export type RigReferenceRequest = z.infer<typeof rigReferenceRequest>;
export type RigWithdrawRequest = z.infer<typeof rigWithdrawRequest>;
