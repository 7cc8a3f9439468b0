import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openFloor } from '../../src/floor/index.ts';
import { type Identity, ownMachine } from '../../src/server/access/identify.ts';
import { ownNames } from '../../src/server/access/names.ts';
import type { Room } from '../../src/server/access/room.ts';
import { type Downloads, openDownloads } from '../../src/server/downloads.ts';
import { createApp, type Reach, type Recordings } from '../../src/server/index.ts';
import type { Mine } from '../../src/server/mine.ts';
import { shareFloor } from '../../src/server/shared-floor.ts';
import type { Submissions } from '../../src/server/submissions.ts';
import { openUploadRate } from '../../src/server/upload-rate.ts';
import { openTrail, openTransfers, openUploads, usualUploadLimits } from '../../src/store/index.ts';

/** An experiment of two bodies, two flows and one group. */
export const experimentText = `# A rig for tests.
bodies:
  brass-12: { diameter: 12 mm, material: brass }   # turned
  brass-20: { diameter: 20 mm, material: brass }
flows:
  60: 60 L/min
  120: 120 L/min
groups:
  g1: {}
recordings: "recordings/{group}/{body}_{flow}-{repeat}"
`;

/** Recordings that are never there, but for those that a test puts in. */
export const noRecordings: Recordings = {
  list: async () => ({ recordings: [], unplaced: [], progress: { done: 0, total: 0 } }),
  detail: async () => null,
  preview: async () => null,
  reading: async () => null,
  decide: async () => null,
  readings: async () => null,
  steps: async () => null,
  comparison: async () => ({ conditions: [], trends: [], noted: [], left: [] }),
  classOf: async () => ({
    recordings: 0,
    counting: 0,
    waiting: 0,
    sections: [],
    conditions: [],
    groups: [],
    causes: null,
    lookAgain: [],
    sameTraces: [],
    labels: [],
    labelsChecked: 0,
    sketched: 0,
    chains: [],
    visits: [],
    left: [],
    earlier: { terms: [], recordings: 0 },
    troubles: [],
    privacy: null,
  }),
  refresh: async () => undefined,
  listen: () => () => undefined,
};

const nobody = async () => {
  throw new Error('no test has put submissions here');
};

/** Where nobody asks for what groups hand in. */
const noSubmissions: Submissions = {
  overview: nobody,
  group: nobody,
  keepTyped: nobody,
  enter: nobody,
  take: nobody,
};

/** Where no group asks. */
const noMine: Mine = {
  view: nobody,
  bench: (group) => ({ group, bench: null }),
  state: nobody,
  submission: nobody,
  enter: nobody,
  take: nobody,
  feedback: nobody,
  owns: () => false,
};

/** A server in memory over a temporary folder, or over one that a test has made. */
export async function testServer(
  options: {
    recordings?: Partial<Recordings>;
    downloads?: Downloads;
    submissions?: Submissions;
    mine?: Mine;
    folder?: string;
    identity?: Identity;
    room?: Room;
    reach?: Reach;
    largestUpload?: number;
    text?: string;
  } = {},
) {
  const folder = await mkdtemp(join(tmpdir(), 'emberline-server-'));
  await writeFile(join(folder, 'experiment.yaml'), options.text ?? experimentText);
  const logged: string[] = [];
  const page = new Map([
    ['/index.html', join(folder, 'page.html')],
    ['/room.html', join(folder, 'room.html')],
    ['/assets/page-1a2b.js', join(folder, 'page.js')],
  ]);
  await writeFile(join(folder, 'page.html'), '<!doctype html><title>page</title>');
  await writeFile(join(folder, 'room.html'), '<!doctype html><title>room</title>');
  await writeFile(join(folder, 'page.js'), 'export {};');
  const over = options.folder ?? folder;
  const floor = shareFloor(() => openFloor({ folder: over, clock: { now: () => Date.now() } }));
  const uploads = openUploads(over);
  const largestUpload = options.largestUpload ?? 1e6;
  const app = createApp({
    folder: over,
    identity: options.identity ?? options.room ?? ownMachine,
    room: options.room ?? null,
    reach: options.reach ?? {
      names: new Set(ownNames),
      scheme: 'http',
      addresses: ['http://localhost/'],
      fingerprint: null,
    },
    recordings: { ...noRecordings, ...options.recordings },
    uploads,
    transfers: openTransfers(over, uploads, { ...usualUploadLimits, largest: largestUpload }),
    uploadRate: openUploadRate(),
    submissions: options.submissions ?? noSubmissions,
    trail: openTrail(over, { now: () => Date.now() }),
    mine: options.mine ?? noMine,
    floor,
    downloads: options.downloads ?? openDownloads(over, null),
    page: async () => page,
    log: (text) => logged.push(text),
    largestUpload,
  });
  const json = (method: string, path: string, body: unknown, headers: Record<string, string> = {}) => {
    return app.request(path, {
      method,
      headers: { 'content-type': 'application/json', ...headers },
      body: typeof body === 'string' ? body : JSON.stringify(body),
    });
  };
  const remove = async () => {
    await floor.close();
    await rm(folder, { recursive: true, force: true });
  };
  return { app, folder, floor, logged, json, remove };
}
