import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { recordingList, upload } from '../../src/server/contract/index.ts';
import { folderRecordings, type OpenRecordings } from '../../src/server/folder-recordings.ts';
import { openUploads, readBriefingFolder, startFeedbackFolder } from '../../src/store/index.ts';
import { runCommand } from '../cli/run.ts';
import { experimentText, testServer } from '../server/app.ts';
import { decayText } from './recording.ts';

/** What must neither be shown nor changed: it lies beside the experiment folder. */
const secret = 'secret of Thornwick';
const path = 'recordings/g1/brass-12_60-1.txt';

let root = '';
let folder = '';
let outside = '';
let recordings: OpenRecordings;
let server: Awaited<ReturnType<typeof testServer>>;

/** Opens the server over the folder as a test has made it. */
async function open() {
  recordings = await folderRecordings(folder, () => undefined);
  server = await testServer({ folder, recordings, submissions: recordings.submissions });
}

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'emberline-links-'));
  folder = join(root, 'course');
  outside = join(root, 'outside');
  mkdirSync(join(folder, 'recordings', 'g1'), { recursive: true });
  mkdirSync(outside);
  writeFileSync(join(folder, 'experiment.yaml'), experimentText);
  writeFileSync(join(folder, path), decayText());
  writeFileSync(join(outside, 'secret.txt'), secret);
});
afterEach(async () => {
  await recordings?.close();
  await server?.remove();
  rmSync(root, { recursive: true, force: true });
});

/** Every file below a folder with what it says. */
function contents(of: string): Record<string, string> {
  const files = readdirSync(of, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return Object.fromEntries(
    files.map((one) => [
      join(one.parentPath, one.name),
      readFileSync(join(one.parentPath, one.name), 'utf8'),
    ]),
  );
}

const decision = { kind: 'reject', who: 'Ada', why: 'the door stood open' };
const rigCheck = { kind: 'zero', value: '0.1 mV', bench: null, subject: null, who: 'Ada', note: '' };
const run = {
  recording: 'reference/run.txt',
  bench: null,
  body: 'brass-12',
  flow: '60',
  who: 'Ada',
  note: '',
};

/** Everything that the server reads from the folder and writes to it, whatever comes of it. */
async function everything(): Promise<string> {
  const said: string[] = [];
  const ask = async (answer: Response | Promise<Response>) => said.push(await (await answer).text());
  for (const address of [
    'experiment',
    'recordings',
    'compare',
    'class',
    'rig',
    'submissions',
    'submissions/g1',
  ]) {
    await ask(server.app.request(`/api/${address}`));
  }
  for (const what of ['analysis', 'steps', 'readings?from=0&to=9&points=100']) {
    await ask(server.app.request(`/api/recordings/${path}/${what}`));
  }
  await ask(server.json('POST', `/api/recordings/${path}/reading`, { options: null }));
  await ask(server.json('POST', `/api/recordings/${path}/decisions`, decision));
  await ask(server.json('POST', '/api/rig/checks', rigCheck));
  await ask(server.json('POST', '/api/rig/references', run));
  await ask(
    server.json('POST', '/api/submissions/g1', {
      rows: [{ recording: path, note: '', values: { point: '4' } }],
    }),
  );
  await ask(
    server.app.request('/api/sheets?name=a.csv&group=g1', { method: 'POST', body: 'recording,point\nx,4\n' }),
  );
  const taken = await server.app.request('/api/uploads?name=x.txt', { method: 'POST', body: decayText(2) });
  const text = await taken.text();
  said.push(text);
  if (taken.status === 200) {
    const { id } = upload.parse(JSON.parse(text));
    const place = { group: 'g1', body: 'brass-20', flow: '60', repeat: 1 };
    await ask(server.json('POST', `/api/uploads/${id}/keep`, { place }));
  }
  await ask(server.app.request('/api/uploads?name=y.txt', { method: 'POST', body: '1\n2\n' }));
  return said.join('\n');
}

/** Names that the folder knows. */
const known = [
  'recordings',
  'decisions',
  'results',
  'submissions',
  'rig',
  'reference',
  '.uploads',
  'feedback',
  'briefing',
  'trail',
];

describe('a folder that is a link out of the experiment', () => {
  test.each(
    known.flatMap((name) => [
      [name, 'empty'],
      [name, 'full'],
    ]),
  )('%s is neither read nor written through, %s', async (name, state) => {
    const target = join(outside, name);
    // What would be found where recordings, their results and decisions, sheets and books are kept.
    const files = [
      'checks.json',
      'reference-runs.json',
      'g1/brass-12_60-1.txt',
      'g1/sheet.csv',
      'a.md',
      `${path}.json`,
    ];
    for (const file of state === 'full' ? files : ['none.txt']) {
      mkdirSync(join(target, file, '..'), { recursive: true });
      writeFileSync(join(target, file), secret);
    }
    if (state === 'full') writeFileSync(join(target, 'run.txt'), decayText(3));
    rmSync(join(folder, name), { recursive: true, force: true });
    symlinkSync(target, join(folder, name));
    await open();
    const before = contents(outside);
    expect(await everything()).not.toContain('secret');
    await recordings.close();
    expect(contents(outside)).toEqual(before);
    expect(Object.keys(contents(folder)).join()).not.toContain('reference-runs');
  });

  test('is named where recordings are looked for', async () => {
    renameSync(join(folder, 'recordings'), join(outside, 'recordings'));
    symlinkSync(join(outside, 'recordings'), join(folder, 'recordings'));
    await open();
    const list = recordingList.parse(await (await server.app.request('/api/recordings')).json());
    expect(list.recordings).toEqual([]);
    expect(list.unplaced).toEqual([{ path: 'recordings', message: expect.stringContaining('link') }]);
    const checked = await runCommand(['check', folder]);
    expect(checked.stdout).toContain('recordings: This is a link');
  });

  test('takes no texts that are put there for the instructor', async () => {
    symlinkSync(outside, join(folder, 'feedback'));
    const before = contents(outside);
    await expect(startFeedbackFolder(folder, [['a', 'text']])).rejects.toThrow('link');
    expect(contents(outside)).toEqual(before);
  });
});

describe('a file that is a link out of the experiment', () => {
  const files = [
    'experiment.yaml',
    path,
    `decisions/${path}.json`,
    `results/${path}.json`,
    'submissions/g1/2026-01-01T10-00-00-000Z.csv',
    'rig/checks.json',
    'rig/reference-runs.json',
    'releases.json',
    'briefing/welcome.md',
    'feedback/within.md',
  ];

  test.each(files)('%s is neither read nor written through', async (name) => {
    mkdirSync(join(folder, name, '..'), { recursive: true });
    rmSync(join(folder, name), { force: true });
    symlinkSync(join(outside, 'secret.txt'), join(folder, name));
    await open();
    const before = contents(outside);
    expect(await everything()).not.toContain('secret');
    await recordings.close();
    expect(contents(outside)).toEqual(before);
  });

  test('experiment.yaml cannot be written through by the page either', async () => {
    const text = readFileSync(join(folder, 'experiment.yaml'), 'utf8');
    await open();
    const { hash } = JSON.parse(await (await server.app.request('/api/experiment')).text());
    renameSync(join(folder, 'experiment.yaml'), join(outside, 'experiment.yaml'));
    symlinkSync(join(outside, 'experiment.yaml'), join(folder, 'experiment.yaml'));
    const answer = await server.json('PUT', '/api/experiment', { hash, text: `${text}# more\n` });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain('link that leads out');
    expect(readFileSync(join(outside, 'experiment.yaml'), 'utf8')).toBe(text);
  });
});

describe('a link that is put in place meanwhile', () => {
  test('of a recording that was listed is not followed', async () => {
    await open();
    await recordings.list();
    const address = `/api/recordings/${path}/analysis`;
    expect((await server.app.request(address)).status).toBe(200);
    cpSync(join(folder, path), join(outside, 'other.txt'));
    rmSync(join(folder, path));
    symlinkSync(join(outside, 'other.txt'), join(folder, path));
    expect((await server.app.request(address)).status).toBe(404);
  });

  test('of a waiting file is not followed, nor is a note that names it', async () => {
    const uploads = openUploads(folder);
    const id = '0'.repeat(32);
    mkdirSync(join(folder, '.uploads'));
    const note = JSON.stringify({ name: 'x.txt', bytes: 3, sha256: '0'.repeat(64) });
    writeFileSync(join(folder, '.uploads', `${id}.json`), note);
    symlinkSync(join(outside, 'secret.txt'), join(folder, '.uploads', `${id}.bytes`));
    expect(await uploads.find(id)).toBeNull();
    rmSync(join(folder, '.uploads', `${id}.bytes`));
    writeFileSync(join(folder, '.uploads', `${id}.bytes`), 'abc');
    expect(await uploads.find(id)).not.toBeNull();
    rmSync(join(folder, '.uploads', `${id}.json`));
    writeFileSync(join(outside, 'note.json'), note);
    symlinkSync(join(outside, 'note.json'), join(folder, '.uploads', `${id}.json`));
    expect(await uploads.find(id)).toBeNull();
  });

  test('of the folder of waiting files has nothing swept away elsewhere', async () => {
    writeFileSync(join(outside, `${'a'.repeat(32)}.bytes`), 'of somebody else');
    symlinkSync(outside, join(folder, '.uploads'));
    await openUploads(folder).sweep(Date.now() + 1e10);
    expect(readdirSync(outside)).toContain(`${'a'.repeat(32)}.bytes`);
  });
});

test('links inside the experiment, and to the experiment folder itself, are followed', async () => {
  renameSync(join(folder, 'recordings'), join(folder, 'measured'));
  symlinkSync('measured', join(folder, 'recordings'));
  const link = join(root, 'this-term');
  symlinkSync(folder, link);
  folder = link;
  await open();
  const list = recordingList.parse(await (await server.app.request('/api/recordings')).json());
  expect(list.recordings.map((one) => one.path)).toEqual([path]);
  expect((await server.json('POST', `/api/recordings/${path}/decisions`, decision)).status).toBe(200);
});

test('a circle of links ends', async () => {
  symlinkSync('b', join(folder, 'a'));
  symlinkSync('a', join(folder, 'b'));
  symlinkSync('a', join(folder, 'decisions'));
  symlinkSync('.', join(folder, 'briefing'));
  await open();
  expect(await everything()).not.toContain('ELOOP');
  expect((await readBriefingFolder(folder)).texts.size).toBe(0);
});
