import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { ServerContext } from './context.ts';
import { enterRequest, groupSubmission, submissionsView, takenSheet } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { record, sha256Of } from './record.ts';
import { answers, jsonBody, router } from './routing.ts';

const list = createRoute({
  method: 'get',
  path: '/api/submissions',
  summary: 'Which groups have handed values in, and what was handed in that cannot be used',
  responses: answers(submissionsView, 'By group, and what is missing.'),
});

const params = z.object({ group: z.string().min(1).max(100).describe('Code of the group.') });

const read = createRoute({
  method: 'get',
  path: '/api/submissions/{group}',
  summary: 'What a group handed in, held against its own recordings, with the text of its feedback',
  request: { params },
  responses: answers(groupSubmission, 'Every value with what it should be, and what gives those outside.'),
});

const enter = createRoute({
  method: 'post',
  path: '/api/submissions/{group}',
  summary: 'Keep values that were typed in, as a sheet that takes the place of the one before',
  request: { params, ...jsonBody(enterRequest) },
  responses: answers(groupSubmission, 'What is to be said of them.'),
});

const take = createRoute({
  method: 'post',
  path: '/api/sheets',
  summary: 'Keep a sheet, CSV or XLSX, byte for byte; its bytes are the body',
  request: {
    query: z.object({
      name: z.string().min(1).max(300).describe('What the file is called.'),
      group: z
        .string()
        .min(1)
        .max(100)
        .optional()
        .describe('The group whose sheet it is; else its rows say so.'),
    }),
    body: { content: { 'application/octet-stream': { schema: z.string().meta({ format: 'binary' }) } } },
  },
  responses: answers(takenSheet, 'Where it is kept.'),
});

/** The routes of what groups hand in. */
export function submissionRoutes({ submissions, trail }: ServerContext): OpenAPIHono {
  const routes = router();
  routes.openapi(list, async (c) => c.json(await submissions.overview(), 200));
  routes.openapi(read, async (c) => c.json(await submissions.group(c.req.valid('param').group), 200));
  routes.openapi(enter, async (c) => {
    const { group } = c.req.valid('param');
    const entered = await submissions.enter(group, c.req.valid('json'), (path, bytes) => {
      const note = `of group ${group}`;
      return record(trail, c, { deed: 'values-entered', about: path, sha256: sha256Of(bytes), note });
    });
    return c.json(entered, 200);
  });
  routes.openapi(take, async (c) => {
    const { name, group } = c.req.valid('query');
    const bytes = new Uint8Array(await c.req.raw.arrayBuffer());
    if (bytes.length === 0) {
      throw new RequestProblem('bad-request', 'The sheet is empty.', 'Choose the file again.');
    }
    const path = await submissions.take(name, bytes, group ?? null);
    const note = `handed over as ${name}`;
    await record(trail, c, { deed: 'sheet-taken', about: path, sha256: sha256Of(bytes), note });
    return c.json({ path }, 200);
  });
  return routes;
}
