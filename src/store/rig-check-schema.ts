import { z } from 'zod';
import { rigKinds } from '../rig/index.ts';
import { entryCode, entryId, entryNote, moment, signature, withdrawalSchema } from './rig-withdrawal.ts';

const check = z.strictObject({
  id: entryId,
  at: moment,
  who: signature,
  bench: entryCode.nullable(),
  kind: z.enum(rigKinds.map(({ kind }) => kind)),
  subject: entryCode.nullable(),
  /** SI. */
  value: z.number().min(-1e12).max(1e12),
  /** As it was typed. */
  written: z.string().min(1).max(100),
  note: entryNote,
});

/** Nobody checks rigs more often than this: ten a day for several years. */
export const mostChecks = 10_000;

/** The file of the checks of an experiment's rigs. */
export const rigFile = z
  .strictObject({
    /** What the file is, for whoever opens it. */
    about: z.string().max(1000),
    checks: z.array(check).max(mostChecks),
    withdrawn: z.array(withdrawalSchema).max(mostChecks),
  })
  .refine(({ checks }) => new Set(checks.map((one) => one.id)).size === checks.length, {
    error: 'two checks have the same id',
  });

export type RigFile = z.output<typeof rigFile>;
