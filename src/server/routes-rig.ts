import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import { ReferenceRunError, referencePlace, referenceResult } from '../analysis/index.ts';
import { admitCheck, admitReference, countingRuns } from '../rig/index.ts';
import {
  appendReferenceRun,
  appendRigCheck,
  checkKept,
  ExperimentFileError,
  entryWithdrawn,
  RigCheckError,
  readExperiment,
  readReferenceRuns,
  referenceKept,
  termOf,
  withdrawReferenceRun,
  withdrawRigCheck,
} from '../store/index.ts';
import type { ServerContext } from './context.ts';
import {
  rigCheckRequest,
  rigCorrelationView,
  rigReferenceRequest,
  rigView,
  rigWithdrawRequest,
} from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { record } from './record.ts';
import { rigCorrelationOf } from './rig-correlation.ts';
import { rigViewOf } from './rig-view.ts';
import { answers, jsonBody, router } from './routing.ts';

const read = createRoute({
  method: 'get',
  path: '/api/rig',
  summary: 'How the rigs stand by the checks that were made of them',
  responses: answers(rigView, 'What was checked, what is outside or too old, and all checks.'),
});

const correlation = createRoute({
  method: 'get',
  path: '/api/rig/correlation',
  summary: "The rig's own correlation of Nu and Re, from what is kept of this and earlier terms",
  responses: answers(rigCorrelationView, 'The correlation in words, and what it expects of each condition.'),
});

const add = createRoute({
  method: 'post',
  path: '/api/rig/checks',
  summary: 'Keep a check of a bench, a flow or a body',
  request: jsonBody(rigCheckRequest),
  responses: answers(rigView, 'How the rigs stand then.'),
});

const keepReference = createRoute({
  method: 'post',
  path: '/api/rig/references',
  summary: "Keep an instructor's own trial as a reference run",
  request: jsonBody(rigReferenceRequest),
  responses: answers(rigView, 'How the rigs stand then.'),
});

const withdraw = createRoute({
  method: 'post',
  path: '/api/rig/withdrawals',
  summary: 'Take a check or reference run back; it stays in the book and does not count',
  request: jsonBody(rigWithdrawRequest),
  responses: answers(rigView, 'How the rigs stand then.'),
});

/** The routes of the checks of the rigs. */
export function rigRoutes({ folder, recordings, trail }: ServerContext): OpenAPIHono {
  const routes = router();
  const experiment = () => asked(folder, () => readExperiment(folder));
  const answer = async () => {
    const known = await experiment();
    return asked(folder, () => rigViewOf(folder, known, Date.now()));
  };

  routes.openapi(read, async (c) => c.json(await answer(), 200));

  routes.openapi(correlation, async (c) => {
    const known = await experiment();
    return c.json(await asked(folder, () => rigCorrelationOf(folder, known)), 200);
  });

  routes.openapi(add, async (c) => {
    const { at = null, ...request } = c.req.valid('json');
    const admitted = admitCheck(await experiment(), { ...request, at }, Date.now());
    if (!admitted.ok) throw new RequestProblem('unfit', admitted.message, admitted.mend);
    const book = await asked(folder, () => appendRigCheck(folder, admitted.check));
    await record(trail, c, checkKept(book));
    await recordings.refresh();
    return c.json(await answer(), 200);
  });

  routes.openapi(keepReference, async (c) => {
    const { recording, ...said } = c.req.valid('json');
    const known = await experiment();
    const place = referencePlace(known, recording, said);
    const found = await asked(folder, () => referenceResult(folder, known, recording, place));
    const term = termOf(folder, known);
    const runs = countingRuns(await asked(folder, () => readReferenceRuns(folder)));
    const wanted = { ...place, term, who: said.who, note: said.note, at: null };
    const admitted = admitReference(known, wanted, found, runs, Date.now());
    if (!admitted.ok) throw new RequestProblem('unfit', admitted.message, admitted.mend);
    const book = await asked(folder, () => appendReferenceRun(folder, admitted.run));
    await record(trail, c, referenceKept(book));
    await recordings.refresh();
    return c.json(await answer(), 200);
  });

  routes.openapi(withdraw, async (c) => {
    const withdrawal = { ...c.req.valid('json'), at: new Date().toISOString() };
    // The book of reference runs names its entries r1, r2 and so on.
    const ofRuns = /^r\d+$/.test(withdrawal.id);
    await asked<unknown>(folder, () =>
      ofRuns ? withdrawReferenceRun(folder, withdrawal) : withdrawRigCheck(folder, withdrawal),
    );
    await record(trail, c, entryWithdrawn(withdrawal));
    await recordings.refresh();
    return c.json(await answer(), 200);
  });
  return routes;
}

/** Where the folder lies on the disk is left out: the page knows it by its name. */
async function asked<T>(folder: string, work: () => Promise<T>): Promise<T> {
  const plain = (text: string) => text.replaceAll(`${folder}/`, '').replaceAll(`${folder}\\`, '');
  return work().catch((error: unknown) => {
    if (error instanceof RigCheckError) {
      const kind = error.kind === 'file' ? 'cannot-write' : 'unfit';
      throw new RequestProblem(kind, plain(error.message), plain(error.mend));
    }
    if (error instanceof ReferenceRunError) {
      throw new RequestProblem('unfit', plain(error.message), plain(error.mend));
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
