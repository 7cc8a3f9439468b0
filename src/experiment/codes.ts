import { z } from 'zod';
import { isPlainName } from './plain-path.ts';

const pattern = /^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$/;
const spelling = 'a code is made of letters, digits, dots, hyphens and underscores, at most 40 of them';

/** Words that every object of the language carries: as codes they would be found where nobody wrote them. */
const reserved = (code: string) => code in {};

/** A code by itself. */
export const codeText = z
  .string({ error: 'a code is text: put it in quotes, such as "01"' })
  .regex(pattern, { error: spelling })
  .refine((text) => !reserved(text), { error: 'programs use this word for themselves; take another code' })
  // Folders are called by it.
  .refine((text) => !pattern.test(text) || isPlainName(text), {
    error: 'not every disk takes this for a name: Windows keeps it for a device, or cuts its dot off',
  });

const sameButCapitals = 'two codes differ only in capitals, which some disks do not tell apart';

function unlike(codes: readonly string[]): boolean {
  return new Set(codes.map((one) => one.toLowerCase())).size === codes.length;
}

/** What is listed by code: bodies, flows, groups. */
export function byCode<S extends z.ZodType>(entry: S, most: number) {
  return z
    .record(codeText, entry, { error: 'list them by code, each as "code: ..." on a line of its own' })
    .refine((record) => Object.keys(record).length <= most, { error: `list at most ${most}` })
    .refine((record) => unlike(Object.keys(record)), { error: sameButCapitals });
}

/** A plain list of codes: sections, benches. */
export function codeList(most: number, description: string) {
  return z
    .array(codeText, { error: 'write a list of codes, such as [A, B]' })
    .max(most, { error: `list at most ${most}` })
    .refine(unlike, { error: 'a code stands here twice, or differs from another only in capitals' })
    .describe(description);
}

/** A code that is defined elsewhere in the file; a plain number such as 120 will do. */
export function codeReference(description: string) {
  return z
    .union([z.string(), z.number()], { error: 'write a code of this file' })
    .describe(description)
    .transform(String);
}
