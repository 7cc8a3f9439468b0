import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { figurePaths } from '../../src/cli/figure-file.ts';
import { readPracticeKey } from '../../src/store/index.ts';
import { version } from '../../src/version.ts';
import { loggerText, plainText } from '../support/text.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';
import { runCommand } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-cli-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const course = join('demo', 'thornwick');
const brass = join(course, 'recordings', 'A', 'A1', 'brass-12_120-1.txt');
const bead = join(course, 'recordings', 'A', 'A3', 'bare-junction_120-1.txt');

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const span = z.object({ from: z.number(), to: z.number() });
const resultSchema = z.object({
  recording: z.object({
    path: z.string(),
    sha256: z.string().regex(/^[0-9a-f]{64}$/),
    samples: z.number(),
    rate: z.number(),
    channel: z.string(),
    unit: z.string(),
  }),
  segments: z.object({
    baseline: span,
    peak: z.object({ time: z.number(), temperature: z.number() }),
    cooling: span,
  }),
  ambient: z.object({ value: z.number(), standardUncertainty: z.number(), source: z.string() }),
  estimates: z.array(
    z.object({
      method: z.string(),
      value: z.number(),
      standardUncertainty: z.number(),
      interval: z.tuple([z.number(), z.number()]),
    }),
  ),
  timeConstant: z.object({
    value: z.number(),
    standardUncertainty: z.number(),
    interval: z.tuple([z.number(), z.number()]),
    coverage: z.literal(0.95),
    method: z.string(),
  }),
  adequacy: z.object({ firstOrder: z.boolean() }),
  budget: z.array(z.object({ source: z.string(), contribution: z.number(), share: z.number() })),
  remarks: z.array(
    z.object({ code: z.string(), severity: z.string(), message: z.string(), action: z.string() }),
  ),
  verdict: z.enum(['usable', 'usable-with-remarks', 'repeat']),
});

function parsed(line: string) {
  return resultSchema.parse(JSON.parse(line));
}

describe('emberline analyze', () => {
  test('tells a person the time constant, its make-up and whether the recording is usable', async () => {
    const { status, stdout } = await runCommand(['analyze', brass, '--experiment', course]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/time constant \d\d\.\d+ ± 0\.\d+ s {2}\(95 %\) {3}usable/);
    expect(stdout).toContain('Type T thermocouple');
    for (const words of ['read', 'parts', 'ambient', 'budget', 'noise', 'one decay?', '36.8 % point']) {
      expect(stdout).toContain(words);
    }
    const longest = Math.max(...stdout.split('\n').map((line) => line.length));
    expect(longest).toBeLessThanOrEqual(80);
  });

  test('gives programs one object a recording with the fields that are promised', async () => {
    const { status, stdout } = await runCommand(['analyze', brass, bead, '--experiment', course, '--json']);
    expect(status).toBe(0);
    const lines = stdout.trim().split('\n');
    expect(lines).toHaveLength(2);
    const key = await readPracticeKey(join('demo', 'thornwick-answers', 'key.json'), null);
    const truthOf = (path: string) => {
      const keyed = key.recordings.find((one) => join(course, one.path) === path);
      return keyed?.truth.timeConstant ?? Number.NaN;
    };
    for (const [i, line] of lines.entries()) {
      const result = parsed(line);
      const truth = truthOf([brass, bead][i] ?? '');
      const [low, high] = result.timeConstant.interval;
      expect(low).toBeLessThan(truth);
      expect(high).toBeGreaterThan(truth);
      expect(result.estimates.map(({ method }) => method).sort()).toEqual([
        'exponential-fit',
        'log-linear-intercept',
        'log-linear-origin',
        'point-36.8',
      ]);
      const shares = result.budget.reduce((sum, { share }) => sum + share, 0);
      expect(shares).toBeCloseTo(1, 9);
    }
  });

  test('a file that cannot be read does not stop the others, and the exit status says so', async () => {
    const rubbish = file('rubbish.txt', 'this is\nnot a recording\n');
    const { status, stdout, stderr } = await runCommand(['analyze', rubbish, brass, '--experiment', course]);
    expect(status).toBe(2);
    expect(stderr).toContain(rubbish);
    expect(stdout).toContain('time constant');
    const json = await runCommand(['analyze', rubbish, '--json']);
    expect(JSON.parse(json.stdout)).toMatchObject({ recording: { path: rubbish } });
    expect(JSON.parse(json.stdout)).toHaveProperty('error.mend');
  });

  test('a recording that must be repeated ends with status 1', async () => {
    const { temperature } = simulateTrial({ ...plainTrial, rate: 20, coolingTimeConstants: 0.4 });
    const cut = file('cut.txt', loggerText([temperature], 20, plainText));
    const { status, stdout } = await runCommand(['analyze', cut]);
    expect(stdout).toContain('repeat');
    expect(stdout).toContain('cooling-short');
    expect(status).toBe(1);
  });

  test('an ambient that is given replaces the baseline, and one that is wrong moves the result', async () => {
    const json = async (...more: string[]) => {
      const { stdout } = await runCommand(['analyze', brass, '--experiment', course, '--json', ...more]);
      return parsed(stdout);
    };
    const [own, given, fitted] = [
      await json(),
      await json('--ambient', '27 degC +- 0.05 K'),
      await json('--ambient', 'fitted'),
    ];
    expect([own, given, fitted].map(({ ambient }) => ambient.source)).toEqual([
      'baseline',
      'given',
      'fitted',
    ]);
    // An ambient taken too high makes the error fraction fall too fast: the time constant comes out short.
    expect(given.timeConstant.value).toBeLessThan(own.timeConstant.value * 0.97);
    expect(fitted.timeConstant.standardUncertainty).toBeGreaterThan(0);
  });

  test('draws SVG and PNG, and names a picture after the recording where there are several', async () => {
    const one = join(folder, 'pictures', 'run.svg');
    const first = await runCommand(['analyze', brass, '--experiment', course, '--figure', one]);
    expect(first.status).toBe(0);
    expect(readFileSync(one, 'utf8')).toMatch(/^<svg /);
    const many = join(folder, 'pictures', 'run.png');
    await runCommand(['analyze', brass, bead, '--experiment', course, '--figure', many]);
    const png = readFileSync(join(folder, 'pictures', 'run-bare-junction_120-1.png'));
    expect(figurePaths('out/a.svg', ['q/A/run.txt', 'q/B/run.txt'])).toEqual([
      join('out', 'a-A-run.svg'),
      join('out', 'a-B-run.svg'),
    ]);
    // PNG signature, ISO/IEC 15948, 5.2.
    expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  });

  test('a picture that cannot be written costs neither the report nor the truth about it', async () => {
    const nowhere = join(brass, 'inside-a-file.png');
    const { status, stdout, stderr } = await runCommand(['analyze', bead, '--figure', nowhere]);
    expect(status).toBe(2);
    expect(stdout).toContain('time constant');
    expect(stdout).not.toContain('figure ');
    expect(stderr).toContain('could not be written');
  });

  test('readings that are no temperatures of the sensor make the recording one to repeat', async () => {
    const { temperature } = simulateTrial({ ...plainTrial, rate: 10 });
    // A gain of 200 that is not told: volts where millivolts are expected.
    const volts = file(
      'gain.txt',
      loggerText([temperature.map((t) => 0.00004 * t * 200)], 10, {
        ...plainText,
        preamble: ['Time (s)\tU (V)'],
        valueDecimals: 6,
      }),
    );
    const { status, stdout } = await runCommand([
      'analyze',
      volts,
      '--thermocouple',
      'K',
      '--junction',
      'ice',
    ]);
    expect(stdout).toContain('chain-out-of-range');
    expect(status).toBe(1);
  });

  test('a resistance sensor that is named needs no unit', async () => {
    const { temperature } = simulateTrial({ ...plainTrial, rate: 10 });
    const ohm = file(
      'pt100.txt',
      loggerText([temperature.map((t) => 100 * (1 + 3.9083e-3 * t - 5.775e-7 * t * t))], 10, {
        ...plainText,
        preamble: ['Time (s)\tSensor'],
      }),
    );
    const { stdout } = await runCommand(['analyze', ohm, '--resistance', 'Pt100', '--json']);
    expect(parsed(stdout).timeConstant.value).toBeCloseTo(40, 0);
  });

  test('a channel in degrees leaves the sensor out until its class is stated, and says so', async () => {
    const { temperature } = simulateTrial({ ...plainTrial, rate: 10 });
    const degrees = file(
      'degrees.txt',
      loggerText([temperature], 10, { ...plainText, preamble: ['Time (s)\tSphere (degC)'] }),
    );
    const half = (words: string) => Number(/time constant \S+ ± (\S+) s/.exec(words)?.[1]);
    const unknown = (await runCommand(['analyze', degrees])).stdout.replace(/\s+/g, ' ');
    expect(unknown).toContain("The sensor's accuracy is not in it");
    const stated = await runCommand(['analyze', degrees, '--thermocouple', 'K', '--tolerance', '2']);
    const known = stated.stdout.replace(/\s+/g, ' ');
    expect(known).toContain('the sensor chain is in none of the other estimates');
    expect(known).not.toContain('is not in it');
    expect(half(known)).toBeGreaterThan(2 * half(unknown));

    const alone = await runCommand(['analyze', degrees, '--tolerance', '2']);
    expect(alone.status).toBe(2);
    expect(alone.stderr).toContain('no thermocouple is named beside it');
  });

  test.each([
    [['--gain', 'abc'], '--gain'],
    [['--window', '0.1:0.9'], 'the larger first'],
    [['--ambient', '22'], 'no unit'],
    [['--ambient', '20 K'], 'no laboratory'],
    [['--ambient', 'T1 air'], 'a column of the file cannot be named'],
    [['--rate', 'fast'], '"100 Hz"'],
    [['--heating', '0'], 'counted from 1'],
    [['--thermocouple', 'X'], 'B, E, J, K'],
    [['--body', 'brass-12'], '--experiment'],
    [['--end-fraction', '2'], 'between 0 and 1'],
    [['--experiment', join('demo', 'nowhere')], 'experiment.yaml'],
    [['--decimal', ';'], 'decimal'],
  ])('%j is refused with words that name it', async (words, expected) => {
    const { status, stderr } = await runCommand(['analyze', brass, ...words]);
    expect(status).toBe(2);
    expect(stderr).toContain(expected);
  });

  test('a voltage without a sensor is asked about, not guessed', async () => {
    const { status, stderr } = await runCommand(['analyze', brass]);
    expect(status).toBe(2);
    expect(stderr).toContain('--thermocouple');
  });

  test('names and lines from files cannot steer the terminal', async () => {
    const nasty = file('nasty\u001b[31m.txt', 'a\u001b[2J\nb\n');
    const { stderr } = await runCommand(['analyze', nasty]);
    expect(stderr).not.toContain('\u001b');
  });
});

describe('the command line as a whole', () => {
  test('help teaches by example and ends well', async () => {
    const help = await runCommand(['analyze', '--help']);
    expect(help.status).toBe(0);
    expect(help.stdout).toContain('Examples:');
    expect(help.stdout).toContain('Exit status:');
    const all = await runCommand(['--help']);
    expect(all.status).toBe(0);
    expect(all.stdout).toContain('analyze');
    expect((await runCommand(['--version'])).stdout.trim()).toBe(version);
  });

  test('the version is that of the package', () => {
    const manifest: unknown = JSON.parse(readFileSync('package.json', 'utf8'));
    expect(manifest).toMatchObject({ version });
  });

  test('what cannot be understood ends with status 2', async () => {
    expect((await runCommand(['analyse'])).status).toBe(2);
    expect((await runCommand(['analyze'])).status).toBe(2);
    expect((await runCommand(['analyze', brass, '--frobnicate'])).status).toBe(2);
  });

  test('weight and colour only on a terminal that wants them', async () => {
    const words = ['analyze', bead];
    const control = '\u001b[';
    expect((await runCommand(words, {}, false)).stdout).not.toContain(control);
    expect((await runCommand(words, {}, true)).stdout).toContain(control);
    expect((await runCommand(words, { NO_COLOR: '1' }, true)).stdout).not.toContain(control);
    expect((await runCommand(words, { TERM: 'dumb' }, true)).stdout).not.toContain(control);
  });
});
