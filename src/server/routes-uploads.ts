import { createRoute, type OpenAPIHono, z } from '@hono/zod-openapi';
import { buildPath, type Experiment, fixedFolder } from '../experiment/index.ts';
import {
  appendDecision,
  DecisionError,
  ExperimentFileError,
  KeptAlreadyError,
  readExperiment,
  recordingPaths,
  StoreError,
  UploadTooLargeError,
  type WaitingFile,
} from '../store/index.ts';
import type { ServerContext } from './context.ts';
import {
  type KeepRequest,
  keepRequest,
  kept,
  type ReadOptionsView,
  readOptions,
  type UploadView,
  upload,
} from './contract/index.ts';
import { placeByName, recordingEnding } from './place-by-name.ts';
import { RequestProblem } from './problem.ts';
import { record } from './record.ts';
import { answers, jsonBody, router } from './routing.ts';
import { sameBytesIn } from './same-bytes.ts';
import { asReadOptions, understand } from './understanding.ts';

const take = createRoute({
  method: 'post',
  path: '/api/uploads',
  summary: 'Hand a file over and see how it is understood; its bytes are the body',
  request: {
    query: z.object({ name: z.string().min(1).max(300).describe('What the file is called.') }),
    body: { content: { 'application/octet-stream': { schema: z.string().meta({ format: 'binary' }) } } },
  },
  responses: answers(upload, 'The file waits for a day to be read otherwise or to be kept.'),
});

const params = z.object({ id: z.string().regex(/^[0-9a-f]{32}$/, { error: 'no such file is known' }) });

const readAgain = createRoute({
  method: 'post',
  path: '/api/uploads/{id}/read',
  summary: 'Read a waiting file with what a person knows better',
  request: { params, ...jsonBody(z.object({ options: readOptions })) },
  responses: answers(upload, 'The same again.'),
});

const keep = createRoute({
  method: 'post',
  path: '/api/uploads/{id}/keep',
  summary: 'Give a waiting file its place among the recordings; nothing is written over',
  request: { params, ...jsonBody(keepRequest) },
  responses: answers(kept, 'Where it is now.'),
});

/** The routes by which recordings come in. */
export function uploadRoutes(context: ServerContext): OpenAPIHono {
  const { folder, uploads, recordings, trail, largestUpload } = context;
  const sameBytes = sameBytesIn(folder);
  const routes = router();

  const view = async (file: WaitingFile, options: ReadOptionsView): Promise<UploadView> => {
    const { id, bytes, sha256 } = file;
    const experiment = await experimentIn(folder);
    const paths =
      experiment === null ? [] : (await recordingPaths(folder, fixedFolder(experiment.recordings))).paths;
    return {
      id,
      bytes,
      sha256,
      ...(await understand(file, options)),
      place: experiment === null ? null : placeByName(experiment, file.name),
      sameAs: await sameBytes(paths, bytes, sha256),
    };
  };

  const waiting = async (id: string): Promise<WaitingFile> => {
    const file = await uploads.find(id);
    if (file !== null) return file;
    throw new RequestProblem(
      'unknown-upload',
      'This file is not waiting here: it was kept already, or a day has passed.',
      'Choose the file again.',
    );
  };

  routes.openapi(take, async (c) => {
    const { name } = c.req.valid('query');
    const announced = Number(c.req.header('content-length') ?? 0);
    if (announced > largestUpload) throw tooLarge(largestUpload);
    const body = c.req.raw.body;
    if (body === null) {
      throw new RequestProblem('bad-request', 'The file is empty.', 'Check that the logger was recording.');
    }
    await uploads.sweep(Date.now());
    const file = await uploads.take(name, piecesOf(body), largestUpload).catch((error: unknown) => {
      if (error instanceof UploadTooLargeError) throw tooLarge(largestUpload);
      throw diskProblem(error);
    });
    return c.json(await view(file, {}), 200);
  });

  routes.openapi(readAgain, async (c) => {
    const file = await waiting(c.req.valid('param').id);
    return c.json(await view(file, c.req.valid('json').options), 200);
  });

  routes.openapi(keep, async (c) => {
    const file = await waiting(c.req.valid('param').id);
    const { place, reading } = c.req.valid('json');
    const experiment = await readExperiment(folder).catch((error: unknown) => {
      if (error instanceof ExperimentFileError) throw brokenExperiment;
      throw error;
    });
    const built = buildPath(experiment, place, endingOf(file.name));
    if (!built.ok) throw new RequestProblem('unfit', built.message, built.mend);
    const taken = await takenBy(folder, experiment, built.path);
    if (taken !== null) throw alreadyThere(taken);
    await uploads.keep(file.id, built.path).catch((error: unknown) => {
      if (error instanceof KeptAlreadyError) throw alreadyThere(built.path);
      throw diskProblem(error);
    });
    if (reading !== undefined) await keepReading(folder, built.path, file.sha256, reading);
    const note = `handed over as ${file.name}`;
    await record(trail, c, { deed: 'recording-kept', about: built.path, sha256: file.sha256, note });
    if (reading !== undefined) {
      const decided = `how it is read, signed ${reading.who}`;
      await record(trail, c, { deed: 'decided', about: built.path, sha256: file.sha256, note: decided });
    }
    await recordings.refresh(built.path);
    return c.json({ path: built.path }, 200);
  });
  return routes;
}

/** How a file was corrected before it was taken stays with it, as a person's decision. */
async function keepReading(
  folder: string,
  path: string,
  sha256: string,
  { read, who, why }: NonNullable<KeepRequest['reading']>,
): Promise<void> {
  const at = new Date().toISOString();
  try {
    await appendDecision(
      folder,
      path,
      { kind: 'reading', read: asReadOptions(read) },
      { who, why, at, sha256 },
    );
  } catch (error) {
    if (!(error instanceof DecisionError)) throw error;
    throw new RequestProblem(
      'cannot-write',
      `The file was taken as ${path}, but how it is to be read could not be kept with it.`,
      'Check the folder decisions and the room on the disk, and say it again at the recording.',
    );
  }
}

async function* piecesOf(body: ReadableStream<Uint8Array>): AsyncGenerator<Uint8Array> {
  const reader = body.getReader();
  try {
    for (let read = await reader.read(); !read.done; read = await reader.read()) yield read.value;
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}

function tooLarge(most: number): RequestProblem {
  return new RequestProblem(
    'too-large',
    `The file is larger than ${Math.round(most / 1e6)} MB.`,
    'Pack it with gzip, or put it into the folder of recordings by hand.',
  );
}

function diskProblem(error: unknown): unknown {
  if (!(error instanceof StoreError)) return error;
  return new RequestProblem('cannot-write', error.message, 'Check the permissions and the room on the disk.');
}

const brokenExperiment = new RequestProblem(
  'unfit',
  'The experiment file does not fit, so nobody knows where a recording belongs.',
  'Mend the experiment file first.',
);

function alreadyThere(path: string): RequestProblem {
  return new RequestProblem(
    'taken',
    `There is a recording at ${path} already. Nothing was written over.`,
    'Give this one another repeat, or move the other away by hand.',
  );
}

async function experimentIn(folder: string): Promise<Experiment | null> {
  return readExperiment(folder).catch((error: unknown) => {
    if (error instanceof ExperimentFileError) return null;
    throw error;
  });
}

/** The ending by which the file is found again; text files of other names become .txt. */
function endingOf(name: string): string {
  return recordingEnding.exec(name)?.[0].toLowerCase() ?? (/\.gz$/i.test(name) ? '.txt.gz' : '.txt');
}

/** A recording of the same place with any ending, or in other capitals where a disk does not tell those apart. */
async function takenBy(folder: string, experiment: Experiment, path: string): Promise<string | null> {
  const bare = (text: string) => text.replace(recordingEnding, '').toLowerCase();
  const { paths } = await recordingPaths(folder, fixedFolder(experiment.recordings));
  return paths.find((other) => bare(other) === bare(path)) ?? null;
}
