import { basename, resolve } from 'node:path';
import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import {
  changeText,
  checkExperiment,
  experimentSchema,
  lineDifference,
  parseChecked,
} from '../experiment/index.ts';
import {
  ExperimentChangedError,
  ExperimentFileError,
  readExperimentText,
  StoreError,
  saveExperimentText,
  textHash,
} from '../store/index.ts';
import { version } from '../version.ts';
import type { ServerContext } from './context.ts';
import {
  changeRequest,
  changeView,
  type ExperimentView,
  experimentView,
  saveRequest,
} from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { record } from './record.ts';
import { answers, jsonBody, router } from './routing.ts';

const read = createRoute({
  method: 'get',
  path: '/api/experiment',
  summary: 'The experiment file as it stands',
  responses: answers(experimentView, 'Its text, what does not fit in it, and what to look at.'),
});

const change = createRoute({
  method: 'post',
  path: '/api/experiment/change',
  summary: 'The experiment file as it would be with some values changed; nothing is written',
  request: jsonBody(changeRequest),
  responses: answers(changeView, 'The text, and how it differs.'),
});

const save = createRoute({
  method: 'put',
  path: '/api/experiment',
  summary: 'Write a new text of the experiment file over the one that it was made from',
  request: jsonBody(saveRequest),
  responses: answers(experimentView, 'The experiment file as it stands now.'),
});

/** The routes of the experiment file. */
export function experimentRoutes({ folder, recordings, trail }: ServerContext): OpenAPIHono {
  const routes = router();
  routes.openapi(read, async (c) => c.json(viewOf(folder, await textIn(folder)), 200));

  routes.openapi(change, async (c) => {
    const request = c.req.valid('json');
    const text = await textIn(folder);
    if (textHash(text) !== request.hash) throw changedMeanwhile();
    const changed = changeText(text, request.changes);
    if (!changed.ok) {
      throw new RequestProblem(
        'unfit',
        `${changed.place.join(' › ')}: ${changed.message}`,
        'Change it in the experiment file itself.',
      );
    }
    const checked = parseChecked(changed.text, experimentSchema);
    return c.json(
      {
        text: changed.text,
        hash: textHash(changed.text),
        difference: lineDifference(text, changed.text),
        faults: checked.ok ? [] : [...checked.faults],
      },
      200,
    );
  });

  routes.openapi(save, async (c) => {
    const { hash, text } = c.req.valid('json');
    const checked = parseChecked(text, experimentSchema);
    if (!checked.ok) {
      const [first] = checked.faults;
      throw new RequestProblem(
        'faults',
        `The new text does not fit in line ${first?.line ?? 1}: ${first?.message ?? ''}. Nothing was written.`,
        'Mend the lines that are named, and keep it again.',
        [...checked.faults],
      );
    }
    await saveExperimentText(folder, hash, text).catch((error: unknown) => {
      if (error instanceof ExperimentChangedError) throw changedMeanwhile();
      if (error instanceof StoreError) throw refused(error);
      throw asProblem(error);
    });
    await record(trail, c, { deed: 'experiment-saved', about: 'experiment.yaml', sha256: textHash(text) });
    await recordings.refresh();
    return c.json(viewOf(folder, text), 200);
  });
  return routes;
}

function changedMeanwhile(): RequestProblem {
  return new RequestProblem(
    'changed',
    'The experiment file says something else than when this change was begun. Nothing was written.',
    'Look at the file as it is now, and make the change again.',
  );
}

function refused(error: StoreError): RequestProblem {
  return new RequestProblem('cannot-write', error.message, 'Check the permissions and the room on the disk.');
}

async function textIn(folder: string): Promise<string> {
  return readExperimentText(folder).catch((error: unknown) => {
    throw asProblem(error);
  });
}

/** The path of the folder is nobody's business but of who started the server. */
function asProblem(error: unknown): unknown {
  if (!(error instanceof ExperimentFileError)) return error;
  const message = error.faults[0]?.message ?? 'cannot be read';
  return new RequestProblem(
    'unfit',
    `The file experiment.yaml ${message}.`,
    'Put the experiment file back into the folder, or start one with emberline new.',
  );
}

function viewOf(folder: string, text: string): ExperimentView {
  const checked = parseChecked(text, experimentSchema);
  const base = { folder: basename(resolve(folder)), version, text, hash: textHash(text) };
  if (!checked.ok) return { ...base, course: null, faults: [...checked.faults], cautions: [] };
  return {
    ...base,
    course: checked.value.course ?? null,
    faults: [],
    cautions: checkExperiment(checked.value).map(({ code, severity, message, action, place }) => {
      return { code, severity, message, action, line: checked.lineOf(place) };
    }),
  };
}
