import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { conditionsOf, predictCondition } from '../../src/experiment/index.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { appendReferenceRun, appendRigCheck, readExperiment } from '../../src/store/index.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { runCommand } from './run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-terms-cli-'));
const now = join(root, 'autumn');
const before = join(root, 'spring');
afterAll(() => rmSync(root, { recursive: true, force: true }));

function course(folder: string, lines: string): void {
  mkdirSync(folder);
  const text = readFileSync('examples/thornwick/experiment.yaml', 'utf8').replace(
    /^(term|earlier-terms):.*\n/gm,
    '',
  );
  writeFileSync(join(folder, 'experiment.yaml'), `${lines}\n${text}`);
}

function recorded(folder: string, path: string, seed: number): void {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), trialPieces({ seed }).join(''));
}

beforeAll(() => {
  course(now, 'term: 2026-autumn\nearlier-terms: [../spring, ../gone]');
  course(before, 'term: 2026-spring');
});

const rig = (...words: readonly string[]) => runCommand(['rig', now, ...words]);
const widest = (text: string) =>
  Math.max(
    ...text
      .split('\n')
      .slice(1)
      .map((line) => [...line].length),
  );

describe('a reference run', () => {
  const path = 'reference/bench-2/monday.txt';
  const place = ['--bench', 'bench-2', '--body', 'brass-12', '--flow', '120'];

  test('is kept with what it showed, listed, and taken back', async () => {
    recorded(now, path, 1);
    const kept = await rig(
      '--reference',
      join(now, path),
      ...place,
      '--who',
      'IK',
      '--note',
      'first of term',
    );
    expect(kept.stderr).toBe('emberline: kept as r1\n');
    expect(kept.status).toBe(0);
    expect(kept.stdout.replace(/\s+/g, ' ')).toMatch(
      /reference \d{4}-\d\d-\d\d, bench-2, brass-12 in 120: (19|20)\.\d+ ± 0\.\d+ s; [\d.]+ s expected by theory\./,
    );
    const again = await rig('--reference', path, ...place, '--who', 'IK');
    expect(again).toMatchObject({ status: 2, stdout: '' });
    expect(again.stderr).toContain('is kept already, as r1');
    const history = await rig('--history');
    expect(history.stdout.replace(/\s+/g, ' ')).toContain('(2026-autumn) (IK). first of term');
    expect(widest(history.stdout)).toBeLessThanOrEqual(80);
    const back = await rig('--withdraw', 'r1', '--who', 'IK', '--why', 'wrong bench');
    expect(back.stdout).not.toContain('reference');
    expect((await rig('--history')).stdout.replace(/\s+/g, ' ')).toContain('Taken back by IK: wrong bench');
  });

  test.each([
    [['--reference', 'reference/none.txt', ...place, '--who', 'IK'], 'There is no recording'],
    [['--reference', '../spring/experiment.yaml', ...place, '--who', 'IK'], 'no recording inside'],
    [['--reference', 'experiment.yaml', ...place, '--who', 'IK'], 'cannot be read'],
    [['--reference', path, ...place], '--who is missing'],
    [['--reference', path, '--bench', 'bench-2', '--who', 'IK'], 'No body is named'],
    [['--reference', path, '--body', 'brass-12', '--flow', '120', '--who', 'IK'], 'none is named'],
    [['--body', 'brass-12'], 'give --reference'],
    [['--term', 'x'], 'give --reference'],
    [['--bench', 'bench-1'], 'give --add <kind> or --reference'],
    [['--form', 'power'], 'belongs to --correlation'],
    [['--correlation', '--history'], 'ask for it alone'],
    [['--withdraw', 'r9', '--who', 'IK', '--why', 'x'], 'there is no reference run r9'],
  ])('says what is missing in %j', async (words, mend) => {
    const { status, stderr, stdout } = await rig(...words);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toContain(mend);
  });
});

describe('over the terms', () => {
  test('a step between two terms is dated, and a folder that is gone is named', async () => {
    const random = seededRandom(5);
    for (let i = 0; i < 16; i += 1) {
      const folder = i < 8 ? before : now;
      await appendRigCheck(folder, {
        at: new Date(Date.UTC(2026, i < 8 ? 2 : 9, 1 + (i % 8))).toISOString(),
        who: 'IK',
        bench: 'bench-1',
        kind: 'gain',
        subject: null,
        value: (i < 8 ? 200 : 202) + 0.1 * random.normal(),
        written: '200',
        note: '',
      });
    }
    const { stdout, stderr } = await rig('--history');
    expect(stderr).toContain('earlier term ../gone: It cannot be opened');
    expect(stdout.replace(/\s+/g, ' ')).toMatch(
      /changed Bench-1, gain: since 2026-10-01 it lies (0\.9\d|1\.\d) % higher than up to 2026-03-08 \(step\)\. Provisional limits: 199\.\d+ to 200\.\d+\. Look at the range switch/,
    );
    expect(widest(stdout)).toBeLessThanOrEqual(80);
    const json = await rig('--history', '--json');
    const shape = z.object({
      charts: z.array(
        z.object({
          kind: z.string(),
          change: z.object({ kind: z.string() }).nullable(),
          points: z.array(z.object({ term: z.string(), value: z.number() })),
        }),
      ),
    });
    const gain = shape.parse(JSON.parse(json.stdout)).charts.find(({ kind }) => kind === 'gain');
    expect(gain?.change?.kind).toBe('step');
    expect(gain?.points.map(({ term }) => term)).toEqual([
      ...Array<string>(8).fill('2026-spring'),
      ...Array<string>(8).fill('2026-autumn'),
    ]);
  });

  test('the correlation is refused first, and then made from reference runs of both terms', async () => {
    const none = await rig('--correlation');
    expect(none.status).toBe(1);
    expect(none.stdout).toContain('none yet');
    const plain = await runCommand(['plan', now, '--rig']);
    expect(plain.stderr).toContain('the plan is by theory');

    const experiment = await readExperiment(now);
    const random = seededRandom(8);
    for (const [b, bench] of experiment.benches.entries()) {
      for (const condition of conditionsOf(experiment).measured) {
        const predicted = predictCondition(experiment, condition, 0);
        const shape = experiment.bodies[condition.body]?.shape;
        if (!predicted.ok || shape !== 'sphere' || predicted.prediction.velocity === 0) continue;
        // This rig cools by 12 % better than theory says.
        const tau = (predicted.prediction.timeConstant.value / 1.12) * Math.exp(0.02 * random.normal());
        await appendReferenceRun(b < 2 ? before : now, {
          at: '2026-03-02T10:00:00.000Z',
          who: 'IK',
          term: b < 2 ? '2026-spring' : '2026-autumn',
          bench,
          recording: 'reference/x.txt',
          sha256: 'c'.repeat(64),
          ...condition,
          timeConstant: tau,
          standardUncertainty: 0.005 * tau,
          interval: [0.99 * tau, 1.01 * tau],
          expected: null,
          note: '',
        });
      }
    }
    const { status, stdout } = await rig('--correlation', '--json');
    expect(status).toBe(0);
    const found = z
      .object({
        ok: z.literal(true),
        nusseltMiddle: z.object({ value: z.number(), interval: z.tuple([z.number(), z.number()]) }),
        exponent: z.object({ value: z.number(), interval: z.tuple([z.number(), z.number()]) }),
        benches: z.number(),
        theory: z.number(),
      })
      .parse(JSON.parse(stdout));
    expect(found.benches).toBe(4);
    const ratio = found.nusseltMiddle.value / found.theory;
    // h goes up by 12 %, of which a part is that of the wires and of radiation.
    expect(ratio).toBeGreaterThan(1.1);
    expect(ratio).toBeLessThan(1.18);
    // Whitaker's two powers, 1/2 and 2/3, are between these.
    expect(found.exponent.value).toBeGreaterThan(0.5);
    expect(found.exponent.value).toBeLessThan(0.67);
    const told = await rig('--correlation');
    expect(told.stdout).toMatch(/Nu at Re [\d ]+: \d+\.?\d* ± \d/);
    expect(widest(told.stdout)).toBeLessThanOrEqual(80);

    const plan = await runCommand(['plan', now, '--rig']);
    expect(plan.stdout).toContain("by the rig's own correlation; theory expects");
    const planned = z
      .object({
        conditions: z.array(
          z.object({
            condition: z.object({ body: z.string() }),
            predicted: z.object({ value: z.number() }),
            timeConstant: z.object({ value: z.number(), source: z.string() }),
          }),
        ),
      })
      .parse(JSON.parse((await runCommand(['plan', now, '--rig', '--json'])).stdout));
    const spheres = planned.conditions.filter(({ timeConstant }) => timeConstant.source === 'rig');
    expect(spheres.length).toBeGreaterThan(3);
    for (const { predicted, timeConstant } of spheres) {
      expect(timeConstant.value / predicted.value).toBeGreaterThan(0.85);
      expect(timeConstant.value / predicted.value).toBeLessThan(0.94);
    }
  });
});

describe('query', () => {
  test('asks both terms at once', async () => {
    const { status, stdout } = await runCommand([
      'query',
      now,
      'SELECT term, count(*) AS n FROM reference_runs WHERE counts GROUP BY term ORDER BY term',
      '--format',
      'csv',
    ]);
    expect(status).toBe(0);
    const [head, ...rows] = stdout.trim().split('\r\n');
    expect(head).toBe('term,n');
    expect(rows.map((row) => row.split(',')[0])).toEqual(['2026-autumn', '2026-spring']);
  });

  test('takes further folders, and is the same table for a person and a program', async () => {
    const third = join(root, 'older');
    course(third, 'term: 2025-spring');
    cpSync(join(before, 'rig'), join(third, 'rig'), { recursive: true });
    const words = ['query', now, third, 'SELECT DISTINCT term FROM rig_checks ORDER BY term'];
    const { stdout } = await runCommand(words);
    expect(stdout.split('\n').map((line) => line.trim())).toEqual([
      'term',
      '2025-spring',
      '2026-autumn',
      '2026-spring',
      '3 rows',
      '',
    ]);
    const json = await runCommand([...words, '--format', 'json']);
    expect(JSON.parse(json.stdout)).toEqual({
      rows: [{ term: '2025-spring' }, { term: '2026-autumn' }, { term: '2026-spring' }],
      cut: false,
    });
  });

  test('lists its tables, cuts long answers, and says what it does not understand', async () => {
    const listed = await runCommand(['query', now, '--tables']);
    expect(listed.stdout).toMatch(/^trials\n {2}Recordings of the groups/);
    expect(widest(listed.stdout)).toBeLessThanOrEqual(80);
    const cut = await runCommand(['query', now, 'FROM range(50)', '--rows', '3']);
    expect(cut).toMatchObject({ status: 1 });
    expect(cut.stderr).toContain('only the first 3 rows');
    for (const [words, mend] of [
      [['query', now, 'DROP TABLE trials'], 'Write a SELECT'],
      [['query', now, 'SELECT nope FROM trials'], 'not understood'],
      [['query', 'SELECT 1'], 'name a folder'],
      [['query', now, 'SELECT 1', '--format', 'xml'], 'write table, csv or json'],
      [['query', now, 'SELECT 1', '--rows', '0'], 'write a number from 1'],
    ] as const) {
      const { status, stderr, stdout } = await runCommand(words);
      expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
      expect(stderr).toContain(mend);
    }
  });
});
