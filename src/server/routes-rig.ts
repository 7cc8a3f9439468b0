import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { Experiment } from '../experiment/index.ts';
import { admitCheck, codesOf, countingChecks, type RigBook, standingsOf } from '../rig/index.ts';
import {
  appendRigCheck,
  ExperimentFileError,
  RigCheckError,
  readExperiment,
  readRigChecks,
  withdrawRigCheck,
} from '../store/index.ts';
import type { ServerContext } from './context.ts';
import { type RigView, rigCheckRequest, rigView, rigWithdrawRequest } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { answers, jsonBody, router } from './routing.ts';

const read = createRoute({
  method: 'get',
  path: '/api/rig',
  summary: 'How the rigs stand by the checks that were made of them',
  responses: answers(rigView, 'What was checked, what is outside or too old, and all checks.'),
});

const add = createRoute({
  method: 'post',
  path: '/api/rig/checks',
  summary: 'Keep a check of a bench, a flow or a body',
  request: jsonBody(rigCheckRequest),
  responses: answers(rigView, 'How the rigs stand then.'),
});

const withdraw = createRoute({
  method: 'post',
  path: '/api/rig/withdrawals',
  summary: 'Take a check back; it stays in the book and does not count',
  request: jsonBody(rigWithdrawRequest),
  responses: answers(rigView, 'How the rigs stand then.'),
});

/** The routes of the checks of the rigs. */
export function rigRoutes({ folder, recordings }: ServerContext): OpenAPIHono {
  const routes = router();
  const experiment = () => asked(folder, () => readExperiment(folder));
  const answer = async (book: RigBook) => viewOf(await experiment(), book, Date.now());

  routes.openapi(read, async (c) =>
    c.json(await answer(await asked(folder, () => readRigChecks(folder))), 200),
  );

  routes.openapi(add, async (c) => {
    const { at = null, ...request } = c.req.valid('json');
    const admitted = admitCheck(await experiment(), { ...request, at }, Date.now());
    if (!admitted.ok) throw new RequestProblem('unfit', admitted.message, admitted.mend);
    const book = await asked(folder, () => appendRigCheck(folder, admitted.check));
    await recordings.refresh();
    return c.json(await answer(book), 200);
  });

  routes.openapi(withdraw, async (c) => {
    const withdrawal = { ...c.req.valid('json'), at: new Date().toISOString() };
    const book = await asked(folder, () => withdrawRigCheck(folder, withdrawal));
    await recordings.refresh();
    return c.json(await answer(book), 200);
  });
  return routes;
}

function viewOf(experiment: Experiment, book: RigBook, now: number): RigView {
  return {
    at: new Date(now).toISOString(),
    benches: [...experiment.benches],
    bodies: [...codesOf(experiment, 'body')],
    flows: [...codesOf(experiment, 'flow')],
    standings: [...standingsOf(experiment, countingChecks(book), now)],
    checks: [...book.checks],
    withdrawn: [...book.withdrawn],
  };
}

/** Where the folder lies on the disk is left out: the page knows it by its name. */
async function asked<T>(folder: string, work: () => Promise<T>): Promise<T> {
  const plain = (text: string) => text.replaceAll(`${folder}/`, '').replaceAll(`${folder}\\`, '');
  return work().catch((error: unknown) => {
    if (error instanceof RigCheckError) {
      const kind = error.kind === 'file' ? 'cannot-write' : 'unfit';
      throw new RequestProblem(kind, plain(error.message), plain(error.mend));
    }
    if (error instanceof ExperimentFileError) {
      throw new RequestProblem(
        'unfit',
        'The experiment file has faults: without it nobody knows what can be checked.',
        'Mend it first; the experiment place names the lines.',
      );
    }
    throw error;
  });
}
