import { z } from 'zod';
import { rigKinds } from '../rig/index.ts';

const moment = z.iso.datetime({ offset: true });
const id = z.string().regex(/^[A-Za-z0-9-]{1,60}$/);
const who = z.string().min(1).max(60);
const code = z.string().min(1).max(60);

const check = z.strictObject({
  id,
  at: moment,
  who,
  bench: code.nullable(),
  kind: z.enum(rigKinds.map(({ kind }) => kind)),
  subject: code.nullable(),
  /** SI. */
  value: z.number().min(-1e12).max(1e12),
  /** As it was typed. */
  written: z.string().min(1).max(100),
  note: z.string().max(500),
});

const withdrawal = z.strictObject({ id, at: moment, who, why: z.string().max(500) });

/** Nobody checks rigs more often than this: ten a day for several years. */
export const mostChecks = 10_000;

/** The file of the checks of an experiment's rigs. */
export const rigFile = z
  .strictObject({
    /** What the file is, for whoever opens it. */
    about: z.string().max(1000),
    checks: z.array(check).max(mostChecks),
    withdrawn: z.array(withdrawal).max(mostChecks),
  })
  .refine(({ checks }) => new Set(checks.map((one) => one.id)).size === checks.length, {
    error: 'two checks have the same id',
  });

export type RigFile = z.output<typeof rigFile>;
