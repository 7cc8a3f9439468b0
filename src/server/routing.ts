import { OpenAPIHono, z } from '@hono/zod-openapi';
import { problem } from './contract/index.ts';
import { problemResponse, RequestProblem } from './problem.ts';

/** A set of routes whose requests are held against the contract; what does not fit is answered by a problem. */
export function router(): OpenAPIHono {
  return new OpenAPIHono({
    defaultHook: (result, c) => {
      if (result.success) return undefined;
      const [issue] = result.error.issues;
      const place = issue === undefined || issue.path.length === 0 ? '' : `${shown(issue.path)}: `;
      return problemResponse(
        c,
        new RequestProblem(
          'bad-request',
          `The request does not fit: ${place}${issue?.message ?? 'it is empty'}.`,
          'Send what /api/openapi.json describes for this address.',
        ),
      );
    },
  });
}

function shown(path: readonly PropertyKey[]): string {
  return path.map((key) => String(key).slice(0, 60)).join(' › ');
}

const problemContent = { 'application/problem+json': { schema: problem } };

/** The answers that every address can give beside its own: problem details (RFC 9457). */
export const problems = {
  '4XX': { description: 'What was wrong with the request, and what to do.', content: problemContent },
  '5XX': { description: 'What went wrong here, and what to do.', content: problemContent },
} as const;

/** A good answer in JSON by its schema, and the problems. */
export function answers<S extends z.ZodType>(schema: S, description: string) {
  return { 200: { description, content: { 'application/json': { schema } } }, ...problems } as const;
}

/** A body in JSON that must be there. */
export function jsonBody<S extends z.ZodType>(schema: S) {
  return { body: { required: true, content: { 'application/json': { schema } } } } as const;
}

/** The path of a recording as part of an address. */
export const recordingParams = z.object({
  path: z.string().min(1).max(1000).describe('Path from the experiment folder, with / between its parts.'),
});
