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
  withdrawn: z.array(z.object({ id: z.string(), at: z.string(), who: z.string(), why: z.string() })),
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

export const rigWithdrawRequest = z.object({
  id: z.string().max(60),
  who: z.string().trim().min(1).max(60),
  why: z.string().trim().min(1).max(500),
});

export type RigView = z.infer<typeof rigView>;
export type RigStandingView = z.infer<typeof standing>;
export type RigCheckView = z.infer<typeof check>;
export type RigCheckRequest = z.infer<typeof rigCheckRequest>;
export type RigWithdrawRequest = z.infer<typeof rigWithdrawRequest>;
