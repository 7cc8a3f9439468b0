import { createRoute, type OpenAPIHono, type z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { ServerContext } from './context.ts';
import {
  benchSheetQuery,
  briefingQuery,
  classReportQuery,
  coolingQuery,
  figureQuery,
  groupQuery,
  resultsQuery,
  trialQuery,
  workedQuery,
} from './contract/index.ts';
import type { DownloadOrder } from './download-order.ts';
import { fileAnswers, fileResponse } from './file-response.ts';
import { router } from './routing.ts';

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
