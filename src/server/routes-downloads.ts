import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { MadeFile } from '../export/index.ts';
import type { ServerContext } from './context.ts';
import {
  benchSheetQuery,
  briefingQuery,
  classReportQuery,
  coolingQuery,
  figureQuery,
  groupQuery,
  remarksHeader,
  resultsQuery,
  trialQuery,
  workedQuery,
} from './contract/index.ts';
import type { DownloadOrder } from './download-order.ts';
import { problems, router } from './routing.ts';

const binary = { schema: z.string().meta({ format: 'binary' }) };

/** A file as an answer. */
function fileAnswers(description: string, types: readonly string[]) {
  return {
    200: {
      description,
      headers: z.object({
        'content-disposition': z.string().describe('attachment, with the name of the file (RFC 6266).'),
        [remarksHeader]: z
          .string()
          .optional()
          .describe('What to know about it: a JSON array of sentences, percent-encoded.'),
      }),
      content: Object.fromEntries(types.map((type) => [type, binary])),
    },
    ...problems,
  } as const;
}

const paged = ['application/pdf', 'text/html'];

/** A route that gives a file, by what stands behind the question mark. */
function fileRoute<S extends z.ZodObject>(
  path: string,
  { query, summary, types }: { query: S; summary: string; types: readonly string[] },
) {
  return createRoute({
    method: 'get',
    path,
    summary,
    request: { query },
    responses: fileAnswers('The same input gives the same bytes.', types),
  });
}

const trial = fileRoute('/api/documents/trial', {
  query: trialQuery,
  summary: 'The report of one recording',
  types: paged,
});
const worked = fileRoute('/api/documents/worked', {
  query: workedQuery,
  summary: 'The analysis of one recording worked through, step by step',
  types: paged,
});
const group = fileRoute('/api/documents/group', {
  query: groupQuery,
  summary: 'All trials of a group, held against theory',
  types: paged,
});
const wholeClass = fileRoute('/api/documents/class', {
  query: classReportQuery,
  summary:
    'A class or a section rolled up: who is asked to look again, the spread, the rigs; groups by their codes',
  types: paged,
});
const benchSheet = fileRoute('/api/documents/bench-sheet', {
  query: benchSheetQuery,
  summary: 'One page for the bench, from the plan',
  types: paged,
});
const briefing = fileRoute('/api/documents/briefing', {
  query: briefingQuery,
  summary: 'What a section is told before it starts',
  types: paged,
});
const results = fileRoute('/api/exports/results', {
  query: resultsQuery,
  summary: 'Results, one row a trial; groups by their codes',
  types: [
    'text/csv',
    'application/json',
    'application/vnd.apache.parquet',
    'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    'application/zip',
  ],
});
const cooling = fileRoute('/api/exports/cooling', {
  query: coolingQuery,
  summary: 'The cooling of one recording in block means, with its thinning',
  types: ['text/csv', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'],
});
const figure = fileRoute('/api/exports/figure', {
  query: figureQuery,
  summary: 'The figure of one recording',
  types: ['image/svg+xml', 'image/png'],
});

const papers = { a4: 'a4', letter: 'us-letter' } as const;
const figureCounts = { '1': 1, '2': 2 } as const;

/** What is not asked for is as the experiment file says. */
function settingOf({
  paper,
  figures,
}: {
  readonly paper?: keyof typeof papers | undefined;
  readonly figures?: keyof typeof figureCounts | undefined;
}) {
  return {
    paper: paper === undefined ? null : papers[paper],
    figures: figures === undefined ? null : figureCounts[figures],
  };
}

/** The routes by which documents and data are taken along. */
export function downloadRoutes({ downloads }: ServerContext): OpenAPIHono {
  const routes = router();
  const send = async (c: Context, order: DownloadOrder) => {
    return fileResponse(c, await downloads.make(order, c.req.raw.signal));
  };
  routes.openapi(trial, (c) => {
    const { recording, format, ...setting } = c.req.valid('query');
    return send(c, { kind: 'trial', path: recording, format, ...settingOf(setting) });
  });
  routes.openapi(worked, (c) => {
    const { recording, format, ...setting } = c.req.valid('query');
    return send(c, { kind: 'worked', path: recording, format, ...settingOf(setting) });
  });
  routes.openapi(group, (c) => {
    const { group: code, pages, format, ...setting } = c.req.valid('query');
    return send(c, { kind: 'group', group: code, pages: pages === 'true', format, ...settingOf(setting) });
  });
  routes.openapi(wholeClass, (c) => {
    const { section = null, format, ...setting } = c.req.valid('query');
    return send(c, { kind: 'class', section, earlier: [], names: null, format, ...settingOf(setting) });
  });
  routes.openapi(benchSheet, (c) => {
    const { format, ...setting } = c.req.valid('query');
    return send(c, { kind: 'bench-sheet', format, ...settingOf(setting) });
  });
  routes.openapi(briefing, (c) => {
    const { format, example = null, ...setting } = c.req.valid('query');
    return send(c, { kind: 'briefing', example, format, ...settingOf(setting) });
  });
  routes.openapi(results, (c) => send(c, { kind: 'results', ...c.req.valid('query') }));
  routes.openapi(cooling, (c) => {
    const { recording, format } = c.req.valid('query');
    return send(c, { kind: 'cooling', path: recording, format });
  });
  routes.openapi(figure, (c) => {
    const { recording, format } = c.req.valid('query');
    return send(c, { kind: 'figure', path: recording, format });
  });
  return routes;
}

function fileResponse(c: Context, { name, type, bytes, remarks }: MadeFile): Response {
  return c.body(new Uint8Array(bytes), 200, {
    'content-type': type,
    'content-length': String(bytes.byteLength),
    'content-disposition': contentDisposition(name),
    ...(remarks.length === 0 ? {} : { [remarksHeader]: remarksOf(remarks) }),
  });
}

/**
 * A file to be saved under a name (RFC 6266): for old clients in ASCII without quotation marks, for the others in full
 * (RFC 8187).
 */
export function contentDisposition(name: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9._-]/g, '_');
  return `attachment; filename="${plain}"; filename*=UTF-8''${extended(name)}`;
}

/** What RFC 8187 lets stand (attr-char), everything else as UTF-8 in percent signs. */
function extended(text: string): string {
  return encodeURIComponent(text).replace(/['()*]/g, (letter) => {
    return `%${letter.charCodeAt(0).toString(16).toUpperCase()}`;
  });
}

/** A header must stay small: what does not fit is only counted. */
const mostInHeader = 3000;

function remarksOf(remarks: readonly string[]): string {
  const said: string[] = [];
  const written = (list: readonly string[]) => encodeURIComponent(JSON.stringify(list));
  for (const remark of remarks) {
    if (written([...said, remark]).length > mostInHeader) {
      said.push(`And ${remarks.length - said.length} more; the command emberline report says all of them.`);
      break;
    }
    said.push(remark);
  }
  return written(said);
}
