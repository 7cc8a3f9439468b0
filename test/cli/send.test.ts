import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { openWorkbench } from '../../src/server/index.ts';
import { openRoomAccess } from '../../src/store/index.ts';
import { experimentText } from '../server/app.ts';
import { type BreakingLine, breakingLine } from '../support/breaking-line.ts';
import { runCommand } from './run.ts';

const codes = { code: '', fingerprint: '' };
let folder = '';
let here = '';
let port = 0;
let line: BreakingLine;
let close = async (): Promise<void> => undefined;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'emberline-send-to-'));
  await writeFile(join(folder, 'experiment.yaml'), experimentText);
  const workbench = await openWorkbench({
    folder,
    pageFolder: join(folder, 'none'),
    room: { address: '127.0.0.1', names: [], certificate: null, proxy: null },
    log: () => undefined,
  });
  const listening = await workbench.listen(0);
  port = listening.port;
  codes.fingerprint = listening.reach.fingerprint ?? '';
  codes.code = (await openRoomAccess(folder, ['g1'])).groups.get('g1') ?? '';
  line = await breakingLine(() => port);
  close = async () => {
    await line.close();
    await listening.close();
    await workbench.close();
  };
});
afterAll(async () => {
  await close();
  await rm(folder, { recursive: true, force: true });
});
afterEach(() => rm(here, { recursive: true, force: true }));
beforeEach(async () => {
  here = await mkdtemp(join(tmpdir(), 'emberline-send-from-'));
  await writeFile(join(here, 'code.txt'), `${codes.code}\n`);
});

/** A cooling; another one for each number. */
function recording(number: number, count = 300): string {
  const rows = Array.from({ length: count }, (_, i) => {
    return `${(i / 10).toFixed(1)};${(20 + (80 + number) * Math.exp(-i / 50)).toFixed(3)}`;
  });
  return `Time (s);Sphere (degC)\n${rows.join('\n')}\n`;
}

async function send(name: string, text: string, ...words: string[]) {
  const path = join(here, name);
  await writeFile(path, text);
  const to = [
    '--to',
    `https://127.0.0.1:${line.port}`,
    '--group',
    'g1',
    '--code-file',
    join(here, 'code.txt'),
  ];
  return runCommand(['send', path, ...to, '--fingerprint', codes.fingerprint, ...words]);
}
const kept = (path: string) => readFile(join(folder, path), 'utf8');

it('hands a recording in, and the same one again as the same', async () => {
  const first = await send('brass-12_60-1.txt', recording(1));
  expect(first.stderr).toBe('');
  expect(first.stdout).toContain('is there now as recordings/g1/brass-12_60-1.txt');
  expect([0, 1]).toContain(first.status);
  expect(await kept('recordings/g1/brass-12_60-1.txt')).toBe(recording(1));
  const before = line.passed();
  const again = await send('other-name.txt', recording(1), '--json');
  expect(again.status).toBe(0);
  expect(JSON.parse(again.stdout)).toMatchObject({ path: 'recordings/g1/brass-12_60-1.txt', again: true });
  // Asked by its hash, it is not sent once more.
  expect(line.passed() - before).toBeLessThan(recording(1).length);
});

it('goes on where the line broke, and arrives whole', async () => {
  const long = recording(2, 60_000);
  const from = line.passed();
  line.breakAt([200_000, 500_000, 501_000].map((bytes) => from + bytes));
  const sent = await send('brass-12_60-2.txt', long);
  expect(sent.stderr).toContain('it does not get through');
  expect(sent.stdout).toContain('recordings/g1/brass-12_60-2.txt');
  expect(await kept('recordings/g1/brass-12_60-2.txt')).toBe(long);
  expect(line.passed() - from).toBeLessThan(long.length * 1.5);
});

it('takes the place from options, and says which ones are missing', async () => {
  const missing = await send('log7.csv', recording(3));
  expect(missing.status).toBe(2);
  expect(missing.stderr).toContain('--body and --flow');
  const said = await send('log7.csv', recording(3), '--body', 'brass-20', '--flow', '120', '--repeat', '4');
  expect(said.stdout).toContain('recordings/g1/brass-20_120-4.csv');
});

it('hands in what cannot be read by itself only where it is told to', async () => {
  const bare = recording(4).replaceAll(/^.*;/gm, '').replace(/^.*\n/, '');
  const refused = await send('brass-20_60-1.txt', bare);
  expect(refused.status).toBe(2);
  expect(refused.stderr).toContain('--unread');
  const told = await send('brass-20_60-1.txt', bare, '--unread');
  expect(told.status).toBe(1);
  expect(told.stdout).toContain('not read');
});

it('writes over nothing', async () => {
  await send('brass-20_120-1.txt', recording(5));
  const other = await send('brass-20_120-1.txt', recording(6));
  expect(other.status).toBe(2);
  expect(other.stderr).toContain('Nothing was written over');
  expect(await kept('recordings/g1/brass-20_120-1.txt')).toBe(recording(5));
});

it('sends nothing to a server of another certificate, or of one that nobody vouches for', async () => {
  const before = line.passed();
  const other = await send('brass-12_120-1.txt', recording(7), '--fingerprint', 'AB'.repeat(32));
  expect(other.status).toBe(2);
  expect(other.stderr).toContain('which is another one');
  const path = join(here, 'brass-12_120-1.txt');
  const to = [
    '--to',
    `https://127.0.0.1:${line.port}`,
    '--group',
    'g1',
    '--code-file',
    join(here, 'code.txt'),
  ];
  const unknown = await runCommand(['send', path, ...to]);
  expect(unknown.status).toBe(2);
  expect(unknown.stderr).toContain('--fingerprint');
  // Two hellos of TLS, and no request.
  expect(line.passed() - before).toBeLessThan(4000);
});

it('vouched for by a file, the server is believed', async () => {
  const path = join(here, 'brass-12_120-2.txt');
  await writeFile(path, recording(8));
  const to = [
    '--to',
    `https://127.0.0.1:${line.port}`,
    '--group',
    'g1',
    '--ca',
    join(folder, '.room', 'certificate.pem'),
  ];
  const sent = await runCommand(['send', path, ...to], { EMBERLINE_CODE: codes.code });
  expect(sent.stdout).toContain('recordings/g1/brass-12_120-2.txt');
});

it('says what is wrong with what was typed, and with a code that does not fit', async () => {
  const file = join(here, 'x.txt');
  await writeFile(file, recording(9));
  const run = (...words: string[]) => runCommand(['send', file, ...words]);
  for (const to of ['127.0.0.1:4173', 'ftp://a', 'https://a:1/b', 'https://u:p@a']) {
    expect((await run('--to', to)).status).toBe(2);
  }
  expect((await run('--to', 'https://a', '--fingerprint', 'ab')).status).toBe(2);
  const open = await runCommand(['send', file, '--to', 'http://192.0.2.1', '--group', 'g1'], {
    EMBERLINE_CODE: 'x',
  });
  expect(open.stderr).toContain('https');
  await writeFile(join(here, 'code.txt'), 'wrong-code-here\n');
  const wrong = await send('brass-12_120-3.txt', recording(10));
  expect(wrong.status).toBe(2);
  expect(wrong.stderr).toContain('not the code of this group');
});
