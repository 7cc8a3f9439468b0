import { z } from 'zod';
import type { Answer } from './send-http.ts';

const problem = z.object({ detail: z.string(), mend: z.string() });
const place = z.object({
  section: z.string().nullable(),
  group: z.string().nullable(),
  bench: z.string().nullable(),
  body: z.string().nullable(),
  flow: z.string().nullable(),
  repeat: z.number().nullable(),
});

/** Where the bytes of a file are already; null where they are not. */
export const knownAnswer = z.object({ path: z.string().nullable() });

/** How a file that waits on the server is understood. */
export const readAnswer = z.object({
  understood: z
    .object({
      samples: z.number(),
      rate: z.number(),
      remarks: z.array(
        z.object({ code: z.string(), severity: z.string(), message: z.string(), action: z.string() }),
      ),
    })
    .nullable(),
  trouble: z.object({ message: z.string(), mend: z.string(), line: z.number().nullable() }).nullable(),
  place: place.nullable(),
});

/** What became of it. */
export const keptAnswer = z.object({ path: z.string(), again: z.boolean() });

/** The server refuses: what is wrong, and what to do. */
export class RefusedError extends Error {
  override readonly name = 'RefusedError';
  readonly status: number;

  constructor(status: number, message: string) {
    super(message);
    this.status = status;
  }
}

/**
 * What a server answers, by what it should be.
 *
 * @throws RefusedError where it refuses, or answers something else
 */
export function answered<T>(answer: Answer, schema: z.ZodType<T>): T {
  if (answer.status >= 300) throw refusal(answer);
  const read = schema.safeParse(parsed(answer.text));
  if (read.success) return read.data;
  throw new RefusedError(
    answer.status,
    'what answers there is no Emberline server of this version; look at the address',
  );
}

/** A refusal in the words of the server, where it has any. */
export function refusal({ status, text }: Answer): RefusedError {
  const said = problem.safeParse(parsed(text));
  if (said.success) return new RefusedError(status, `${said.data.detail} ${said.data.mend}`);
  return new RefusedError(status, `the server answers with status ${status}; look at the address`);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
