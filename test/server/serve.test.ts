import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { serveFolder } from '../../src/cli/serve-folder.ts';
import { openWorkbench } from '../../src/server/index.ts';
import { runCommand } from '../cli/run.ts';
import { experimentText } from './app.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'emberline-serve-'));
  await writeFile(join(folder, 'experiment.yaml'), experimentText);
  await mkdir(join(folder, 'recordings', 'g1'), { recursive: true });
  await writeFile(join(folder, 'recordings', 'g1', 'brass-12_60-1.txt'), 'no recording at all\n');
});
afterEach(() => rm(folder, { recursive: true, force: true }));

it('answers on the loopback address, tells of changes, and ends with its listeners', async () => {
  const workbench = await openWorkbench({ folder, pageFolder: join(folder, 'none'), log: () => undefined });
  const { port, close } = await workbench.listen(0);
  const base = `http://127.0.0.1:${port}`;
  const events = await fetch(`${base}/api/events`);
  expect(events.headers.get('content-type')).toContain('text/event-stream');
  const list: unknown = await (await fetch(`${base}/api/recordings`)).json();
  expect(list).toMatchObject({ recordings: [{ path: 'recordings/g1/brass-12_60-1.txt' }] });
  const broken = await fetch(`${base}/api/recordings/recordings/g1/brass-12_60-1.txt/analysis`);
  expect(broken.status).toBe(422);
  expect(await broken.text()).not.toContain(folder);
  const gone = await fetch(`${base}/api/recordings/recordings/g1/brass-12_60-2.txt/analysis`);
  expect(gone.status).toBe(404);
  await close();
  await workbench.close();
  await events.body?.cancel().catch(() => undefined);
  await expect(fetch(base)).rejects.toThrow();
});

it('prints its address and ends when it is asked to', async () => {
  const stdout = new PassThrough();
  const surroundings = { stdout, stderr: new PassThrough(), environment: {} };
  const status = await serveFolder(folder, {}, surroundings, async () => {
    const address = /http:\/\/localhost:\d+\//.exec(String(stdout.read()))?.[0] ?? '';
    expect((await fetch(`${address.replace('localhost', '127.0.0.1')}api/experiment`)).status).toBe(200);
  });
  expect(status).toBe(0);
});

it('says what to do about a folder without an experiment, and about a port that is taken', async () => {
  const none = await runCommand(['serve', join(folder, 'recordings')]);
  expect(none.status).toBe(2);
  expect(none.stderr).toContain('emberline new');
  const odd = await runCommand(['serve', folder, '--port', '70000']);
  expect(odd.status).toBe(2);
  const other = createServer();
  const port = await new Promise<number>((resolve) => {
    other.listen(0, '127.0.0.1', () => {
      const address = other.address();
      resolve(typeof address === 'object' && address !== null ? address.port : 0);
    });
  });
  const taken = await runCommand(['serve', folder, '--port', String(port)]);
  expect(taken.status).toBe(2);
  expect(taken.stderr).toContain(`Port ${port} is not free`);
  other.close();
});
