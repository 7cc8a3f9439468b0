import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import {
  appendRelease,
  ExperimentFileError,
  type Release,
  readExperiment,
  readReleases,
  releaseSections,
  StoreError,
  standingRelease,
} from '../store/index.ts';
import type { ServerContext } from './context.ts';
import { type ReleasesView, releaseRequest, releasesView } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import { record } from './record.ts';
import { answers, jsonBody, router } from './routing.ts';

const read = createRoute({
  method: 'get',
  path: '/api/releases',
  summary: 'Which sections see their results, and since when',
  responses: answers(releasesView, 'Every section, as it stands.'),
});

const add = createRoute({
  method: 'post',
  path: '/api/releases',
  summary: 'Release the results of a section to its groups, or take that back',
  request: jsonBody(releaseRequest),
  responses: answers(releasesView, 'The same after that.'),
});

/** The routes of releases. */
export function releaseRoutes({ folder, trail }: ServerContext): OpenAPIHono {
  const routes = router();
  const sections = async () => {
    const experiment = await readExperiment(folder).catch((error: unknown) => {
      if (error instanceof ExperimentFileError) throw brokenExperiment;
      throw error;
    });
    return releaseSections(experiment);
  };

  routes.openapi(read, async (c) => c.json(viewOf(await sections(), await asked(readReleases(folder))), 200));

  routes.openapi(add, async (c) => {
    const { section, released, who } = c.req.valid('json');
    const known = await sections();
    if (!known.includes(section)) {
      throw new RequestProblem(
        'unfit',
        section === null ? 'Every group is in a section here.' : 'There is no such section.',
        'Name one of the sections of the experiment file.',
      );
    }
    const at = new Date().toISOString();
    const releases = await asked(appendRelease(folder, { section, at, who, released }));
    await record(trail, c, {
      deed: released ? 'results-released' : 'results-withdrawn',
      about: 'releases.json',
      note: `${section === null ? 'groups without a section' : `section ${section}`}, signed ${who}`,
    });
    return c.json(viewOf(known, releases), 200);
  });
  return routes;
}

function viewOf(sections: readonly (string | null)[], releases: readonly Release[]): ReleasesView {
  return {
    sections: sections.map((section) => {
      const last = standingRelease(releases, section);
      return {
        section,
        released: last?.released ?? false,
        at: last?.at ?? null,
        who: last?.who ?? null,
      };
    }),
  };
}

/** Where the folder lies on the disk is nobody's business. */
async function asked<T>(work: Promise<T>): Promise<T> {
  return work.catch((error: unknown) => {
    if (!(error instanceof StoreError)) throw error;
    throw new RequestProblem(
      'cannot-write',
      'The file releases.json cannot be read or written.',
      'Check it, its permissions and the room on the disk.',
    );
  });
}

const brokenExperiment = new RequestProblem(
  'unfit',
  'The experiment file has faults: without it nobody knows its sections.',
  'Mend it first; the experiment place names the lines.',
);
