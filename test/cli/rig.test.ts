import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { runCommand } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-rig-cli-'));
beforeAll(() => cpSync('examples/thornwick/experiment.yaml', join(folder, 'experiment.yaml')));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const rig = (...words: readonly string[]) => runCommand(['rig', folder, ...words]);
const add = (kind: string, value: string, ...more: readonly string[]) =>
  rig('--add', kind, '--value', value, '--who', 'IK', ...more);

const shape = z.object({
  at: z.iso.datetime(),
  standings: z.array(z.object({ kind: z.string(), bench: z.string().nullable(), state: z.string() })),
  checks: z.array(z.object({ id: z.string(), value: z.number(), written: z.string() })),
  withdrawn: z.array(z.object({ id: z.string() })),
});

describe('rig', () => {
  test('begins with nothing, adds, warns, takes back, and keeps the history', async () => {
    const first = await rig();
    expect(first).toMatchObject({ status: 0, stderr: '' });
    expect(first.stdout).toContain('nothing is checked yet');
    expect(first.stdout).toContain('bench-1, bench-2, bench-3, bench-4: zero with');

    const good = await add('zero', '1.4 mV', '--bench', 'bench-1');
    expect(good).toMatchObject({ status: 0, stderr: 'emberline: kept as c1\n' });
    expect(good.stdout).toMatch(
      /in order +bench-1, zero with shorted input: 1\.4 mV, within 1\.3 mV ± 2\.4 mV\./,
    );

    const bad = await add('gain', '190', '--bench', 'bench-2', '--note', 'second source');
    expect(bad.status).toBe(1);
    expect(bad.stdout).toContain('1 check to make again');
    expect(bad.stdout).toMatch(/outside +bench-2, gain: 190; it should be 200 ± 0\.40\./);
    expect(bad.stdout).toContain('Local rules come first.');

    const old = await add('ice-point', '0.1 degC', '--bench', 'bench-3', '--at', '2020-03-02T13:40:00+01:00');
    expect(old.stdout).toMatch(/too old +bench-3, ice point/);

    const back = await rig('--withdraw', 'c2', '--who', 'IK', '--why', 'wrong range');
    expect(back.stdout).not.toContain('190');

    const { stdout } = await rig('--history');
    expect(stdout).toMatch(/c3 +2020-03-02 12:40 UTC, bench-3, ice point: 0\.1 degC \(IK\)/);
    expect(stdout.replace(/\s+/g, ' ')).toContain('second source. Taken back by IK: wrong range');

    for (const { stdout: text } of [first, good, bad, old, back]) {
      const longest = Math.max(
        ...text
          .split('\n')
          .slice(1)
          .map((line) => [...line].length),
      );
      expect(longest).toBeLessThanOrEqual(80);
    }
  });

  test('answers a program in SI', async () => {
    const { status, stdout } = await rig('--json');
    expect(status).toBe(1);
    const answer = shape.parse(JSON.parse(stdout));
    expect(answer.checks[0]).toEqual({ id: 'c1', value: 0.0014, written: '1.4 mV' });
    expect(answer.withdrawn).toEqual([{ id: 'c2' }]);
    expect(answer.standings.filter(({ state }) => state === 'stale')).toEqual([
      { kind: 'ice-point', bench: 'bench-3', state: 'stale' },
    ]);
  });

  test.each([
    [['--add', 'zero', '--value', '1.4', '--bench', 'bench-1', '--who', 'IK'], 'has no unit'],
    [['--add', 'zero', '--value', '1.4 mV', '--who', 'IK'], 'Name one of bench-1'],
    [['--add', 'zero', '--bench', 'bench-1', '--who', 'IK'], '--value is missing'],
    [['--add', 'zero', '--value', '1.4 mV', '--bench', 'bench-1'], '--who is missing'],
    [['--value', '1.4 mV'], 'give --add <kind>'],
    [['--who', 'IK'], '--who belongs to'],
    [['--why', 'x'], 'give --withdraw'],
    [['--add', 'zero', '--withdraw', 'c1'], 'one after the other'],
    [['--withdraw', 'c1', '--who', 'IK'], '--why is missing'],
    [['--withdraw', 'c99', '--who', 'IK', '--why', 'x'], 'there is no check c99'],
  ])('says what is missing in %j and keeps nothing', async (words, mend) => {
    const before = await rig('--history');
    const { status, stderr, stdout } = await rig(...words);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toContain(mend);
    expect((await rig('--history')).stdout).toBe(before.stdout);
  });

  test('lets no name steer the terminal', async () => {
    await add('gain', '200', '--bench', 'bench-4', '--note', '\u001b[2J\u202egone');
    const { stdout } = await rig('--history');
    expect(stdout).not.toContain('\u001b');
    expect(stdout).toContain('\\u001b[2J');
  });
});

describe('a failed or an old check', () => {
  const recording = 'recordings/A/A1/brass-12_120-1.txt';
  const course = mkdtempSync(join(tmpdir(), 'emberline-rig-later-'));
  const file = join(course, recording);
  beforeAll(async () => {
    mkdirSync(dirname(file), { recursive: true });
    cpSync('demo/thornwick/experiment.yaml', join(course, 'experiment.yaml'));
    // Elsewhere, too: no bench of this course.
    for (const to of [file, join(folder, 'elsewhere.txt')]) cpSync(join('demo/thornwick', recording), to);
    // A year before the demo was recorded.
    const before = ['--bench', 'bench-1', '--who', 'IK', '--at', '2025-10-01T09:00:00Z'];
    await runCommand(['rig', course, '--add', 'gain', '--value', '190', ...before]);
    await runCommand(['rig', course, '--add', 'zero', '--value', '1.4 mV', ...before]);
  });
  afterAll(() => rmSync(course, { recursive: true, force: true }));

  const analyze = (path: string, ...more: string[]) =>
    runCommand(['analyze', path, '--experiment', course, ...more]);
  const analyzed = z.object({
    timeConstant: z.object({ value: z.number() }),
    verdict: z.string(),
    remarks: z.array(z.object({ code: z.string(), severity: z.string(), message: z.string() })),
  });
  const rigCodes = ({ remarks }: z.infer<typeof analyzed>) =>
    remarks.filter(({ code }) => code.startsWith('rig-')).map(({ code, severity }) => [code, severity]);

  test('is a remark in analyze on every later recording of the bench, and changes no time constant', async () => {
    const said = await analyze(file);
    expect(said.status).toBe(0);
    const flowing = said.stdout.replace(/\s+/g, ' ');
    expect(flowing).toMatch(
      /caution The rig when this was recorded: bench-1, gain: 190; it should be 200 ± 0\.40\. .*\[rig-check-outside\]/,
    );
    expect(flowing).toMatch(/note The rig when this was recorded: bench-1, zero .*\[rig-check-stale\]/);
    expect(said.stdout).toContain('usable, with remarks');
    expect((await analyze(file, '--brief')).stdout).toMatch(/usable, with remarks\n +rig-check-outside/);
    const told = analyzed.parse(JSON.parse((await analyze(file, '--json')).stdout));
    expect(rigCodes(told)).toEqual([
      ['rig-check-stale', 'note'],
      ['rig-check-outside', 'caution'],
    ]);
    const other = analyzed.parse(JSON.parse((await analyze(join(folder, 'elsewhere.txt'), '--json')).stdout));
    expect(rigCodes(other)).toEqual([]);
    expect(other.verdict).toBe('usable');
    expect(told.timeConstant).toEqual(other.timeConstant);
  });

  test('is said of the recording in compare', async () => {
    const { stdout } = await runCommand(['compare', course]);
    expect(stdout.replace(/\s+/g, ' ')).toMatch(
      /caution recordings\/A\/A1\/brass-12_120-1\.txt: .*bench-1, gain: 190; it should be 200 ± 0\.40\. \[rig-check-outside\]/,
    );
  });
});
