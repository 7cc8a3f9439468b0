import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { PassThrough } from 'node:stream';
import { afterAll, describe, expect, test } from 'vitest';
import { type Analyst, analyzeForList, openAnalysis } from '../../src/analysis/index.ts';
import { analyzeMany } from '../../src/cli/analyze-many.ts';
import { type AnalyzeJob, AnalyzeRun, type Said } from '../../src/cli/analyze-run.ts';
import { run } from '../../src/cli/program.ts';
import { type Ran, runCommand } from './run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-many-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const demo = join('demo', 'thornwick');
const main = resolve('dist', 'main.js');
const bench = join(root, 'bench');
const group = join(bench, 'recordings', 'A', 'A1');
cpSync(join(demo, 'recordings', 'A', 'A1'), group, { recursive: true });
cpSync(join(demo, 'experiment.yaml'), join(bench, 'experiment.yaml'));
const files = readdirSync(group).map((name) => join(group, name));

/** A command inside this process, where it has no threads, whatever it writes. */
async function inOneThread(words: readonly string[]): Promise<Ran> {
  const gathered = () => {
    const pieces: Buffer[] = [];
    const stream = Object.assign(new PassThrough(), { isTTY: false });
    stream.on('data', (piece: Buffer) => pieces.push(piece));
    return { stream, text: () => Buffer.concat(pieces).toString() };
  };
  const [stdout, stderr] = [gathered(), gathered()];
  const status = await run(words, { stdout: stdout.stream, stderr: stderr.stream, environment: {} });
  return { status, stdout: stdout.text(), stderr: stderr.text() };
}

describe('many recordings, by several threads', () => {
  // The short ones are done first, one is none, and one is not there.
  const bad = join(root, 'bad.txt');
  writeFileSync(bad, 'no numbers at all\n');
  const paths = [...files, bad, ...files.slice(0, 2), join(root, 'missing.txt')];

  const chain = ['--thermocouple', 'T', '--junction', 'ice', '--gain', '200'];

  test.each([
    ['in full', chain],
    ['as JSON', [...chain, '--json']],
    ['in a line each', [...chain, '--brief']],
    ['of an experiment', ['--experiment', bench, '--brief']],
    ['with a picture each', [...chain, '--figure', join(root, 'pictures', 'run.svg'), '--brief']],
  ])('are printed as one after another, byte for byte: %s', async (_, options) => {
    expect(existsSync(main), 'run npm run build first').toBe(true);
    expect(paths.length).toBeGreaterThan(6);
    const expected = await inOneThread(['analyze', ...paths, ...options]);
    const { status, stdout, stderr } = spawnSync(process.execPath, [main, 'analyze', ...paths, ...options], {
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
    expect({ status, stdout, stderr }).toEqual(expected);
    for (const name of ['bad.txt', 'missing.txt']) expect(stderr).toContain(name);
    expect(stderr.match(/^emberline: /gm)).toHaveLength(2);
  });

  test('by options that cannot be understood are not begun', () => {
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [main, 'analyze', ...paths, '--mains', '50', '--rate', 'often'],
      { encoding: 'utf8' },
    );
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(/^emberline: --rate often/);
  });
});

describe('threads of a few lines', () => {
  const job: AnalyzeJob = { paths: ['a', 'b', 'c', 'd', 'e', 'f'], options: { json: true }, plain: true };
  const threadOf = (body: string) => {
    const code = `import { parentPort, workerData } from 'node:worker_threads';\n${body}`;
    return new URL(`data:text/javascript,${encodeURIComponent(code)}`);
  };

  async function said(module: URL): Promise<Said[]> {
    const found: Said[] = [];
    const surroundings = { stdout: new PassThrough(), stderr: new PassThrough(), environment: {} };
    await analyzeMany(job, await AnalyzeRun.of(job), { module, hands: 3 }, surroundings, (one) =>
      found.push(one),
    );
    return found;
  }

  test('are heard in the order of the paths, whoever is done first', async () => {
    const found = await said(
      threadOf(`parentPort.on('message', (i) => {
        let turns = i % 3 === 0 ? 20000 : 0;
        const stdout = workerData.paths[i];
        const answer = () => {
          if (turns-- > 0) setImmediate(answer);
          else parentPort.postMessage({ stdout, stderr: '', failed: false, repeat: false });
        };
        answer();
      });`),
    );
    expect(found.map(({ stdout }) => stdout).join('')).toBe('abcdef');
  });

  test('that end leave their recording without a result, and the others with theirs', async () => {
    const found = await said(
      threadOf(`parentPort.on('message', (i) => {
        if (i === 2) process.exit(3);
        parentPort.postMessage({ stdout: workerData.paths[i], stderr: '', failed: false, repeat: false });
      });`),
    );
    expect(found.map(({ failed }) => failed)).toEqual([false, false, true, false, false, false]);
    expect(found[2]?.stderr).toMatch(/^emberline: c: Its analysis broke off twice/);
    expect(JSON.parse(found[2]?.stdout ?? '')).toMatchObject({ recording: { path: 'c' } });
  });
});

describe('recordings of an experiment', () => {
  const folder = join(root, 'course');
  const body = 'brass-12';
  mkdirSync(join(folder, 'recordings', 'A'), { recursive: true });
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  cpSync(group, join(folder, 'recordings', 'A', 'A1'), { recursive: true });
  const recording = join(folder, 'recordings', 'A', 'A1', `${body}_120-1.txt`);

  async function listed() {
    const calls: string[] = [];
    const analyst: Analyst = (order) => {
      calls.push(order.file);
      return order.file === recording ? analyzeForList(order) : analyzeForList({ ...order, file: 'none' });
    };
    const analysis = await openAnalysis(folder, { analyst });
    await analysis.settled();
    const [found] = analysis.list().recordings.filter(({ path }) => path.endsWith(`${body}_120-1.txt`));
    await analysis.close();
    return { again: calls.includes(recording), found };
  }

  test('leave to its list what they found, where they were asked for as the list asks', async () => {
    const ask = (...options: string[]) =>
      runCommand(['analyze', recording, '--experiment', folder, '--json', ...options]);
    const kept = join(folder, 'results', 'recordings', 'A', 'A1', `${body}_120-1.txt.json`);
    // With a window, a limit or a way of reading of their own they say something else.
    for (const options of [
      ['--window', '0.8:0.2'],
      ['--limit', '400 degC'],
      ['--decimal', '.'],
    ]) {
      expect((await ask('--body', body, ...options)).status).toBe(0);
      expect(existsSync(kept)).toBe(false);
    }
    const { stdout } = await ask('--body', body);
    expect(existsSync(kept)).toBe(true);
    const { again, found } = await listed();
    expect(again).toBe(false);
    expect(found?.timeConstant?.value).toBe(JSON.parse(stdout).timeConstant.value);
    expect(JSON.parse(readFileSync(kept, 'utf8'))).toMatchObject({ result: { kind: 'analyzed' } });
  });
});
