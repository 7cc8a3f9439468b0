import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import { z } from 'zod';
import type { Problem } from './contract/index.ts';

/** What may be wrong, by the last part of its address; the title of each is the same wherever it turns up. */
const kinds = {
  'bad-request': [400, 'The request is not one that this server understands'],
  'wrong-secret': [401, 'This does not open the door'],
  'not-signed-in': [401, 'Somebody has to sign in first'],
  'not-allowed': [403, 'Who is signed in may not do this'],
  'foreign-request': [403, 'Only the page of this server may ask for this'],
  'not-found': [404, 'There is nothing at this address'],
  'unknown-recording': [404, 'There is no such recording'],
  'unknown-upload': [404, 'This file is not waiting here any more'],
  'wrong-method': [405, 'This address takes another method'],
  changed: [409, 'The file was changed meanwhile'],
  'out-of-step': [409, 'The transfer goes on at another byte'],
  taken: [409, 'There is a recording already'],
  'wrong-protocol': [412, 'The protocol is of another version'],
  'too-large': [413, 'This is more than is taken'],
  'wrong-content': [415, 'The content is of another type'],
  'misdirected-request': [421, 'This server does not go by that name'],
  faults: [422, 'The experiment file does not fit'],
  unfit: [422, 'This cannot be done'],
  unreadable: [422, 'The recording cannot be read'],
  'wrong-hash': [422, 'What arrived is not the file that was announced'],
  'too-many': [429, 'More is waiting here than is taken'],
  'too-often': [429, 'This comes too often'],
  // The number is that of the checksum extension of the resumable upload protocol (tus 1.0.0).
  damaged: [460, 'What arrived is not what was sent'],
  fault: [500, 'Something went wrong in the server'],
  'missing-part': [501, 'This machine cannot make this'],
  busy: [503, 'The server has enough to do'],
  'cannot-write': [507, 'The disk refuses'],
} as const satisfies Readonly<Record<string, readonly [ContentfulStatusCode | 460, string]>>;

/** One of them, by its name. */
export const problemKind = z.custom<keyof typeof kinds>((name) => {
  return typeof name === 'string' && Object.hasOwn(kinds, name);
});

export type ProblemKind = z.infer<typeof problemKind>;

/** A request that cannot be met: what was wrong and what to do. It becomes the answer. */
export class RequestProblem extends Error {
  override readonly name = 'RequestProblem';
  readonly kind: ProblemKind;
  readonly mend: string;
  readonly faults: Problem['faults'];

  constructor(kind: ProblemKind, detail: string, mend: string, faults?: Problem['faults']) {
    super(detail);
    this.kind = kind;
    this.mend = mend;
    this.faults = faults;
  }
}

/**
 * The answer to a request that cannot be met, as RFC 9457 has it, with what to do in `mend`. The address of the kind is
 * a name only (RFC 4151) and nothing is to be found there.
 */
export function problemResponse(c: Context, problem: RequestProblem): Response {
  const [status, title] = kinds[problem.kind];
  const body: Problem = {
    type: `tag:emberline,2026:${problem.kind}`,
    title,
    status,
    detail: problem.message,
    mend: problem.mend,
    ...(problem.faults === undefined ? {} : { faults: problem.faults }),
  };
  const text = JSON.stringify(body);
  const headers = { 'content-type': 'application/problem+json' };
  // No registered status, and so none that the router knows.
  return status === 460 ? new Response(text, { status, headers }) : c.body(text, status, headers);
}
