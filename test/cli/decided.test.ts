import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { hashOf } from '../../src/analysis/kept-result.ts';
import { appendDecision, type Marks } from '../../src/store/index.ts';
import { runCommand } from './run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-decided-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const demo = join('demo', 'thornwick');
const recording = 'recordings/A/A1/brass-12_120-1.txt';

let folder = '';
let file = '';
beforeEach(() => {
  folder = mkdtempSync(join(root, 'course-'));
  file = join(folder, recording);
  mkdirSync(dirname(file), { recursive: true });
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  cpSync(join(demo, recording), file);
});

const resultSchema = z.object({
  recording: z.object({ rate: z.number(), unit: z.string() }),
  segments: z.object({
    cooling: z.object({ from: z.number(), to: z.number() }),
    baseline: z.object({ from: z.number(), to: z.number() }),
  }),
  timeConstant: z.object({ value: z.number() }),
  decisions: z.array(z.object({ kind: z.string(), applies: z.boolean() })),
});

const analyze = (...more: string[]) => runCommand(['analyze', file, '--experiment', folder, ...more]);
async function result(...more: string[]) {
  const { stdout } = await analyze('--json', ...more);
  return resultSchema.parse(JSON.parse(stdout));
}
/** The text without its line breaks. */
const flowing = (text: string) => text.replace(/\s+/g, ' ');

async function decide(decision: Parameters<typeof appendDecision>[2], why = 'the jet was touched') {
  const sha256 = await hashOf(file);
  if (sha256 === null) throw new Error('The recording is not there.');
  await appendDecision(folder, recording, decision, { who: 'Ines', why, at: '2026-03-09T11:00:00Z', sha256 });
}
const marks = (cooling: Marks['cooling']): Marks => ({ baseline: null, cooling, heating: null });

describe('emberline analyze with an experiment', () => {
  test('cuts a recording by the marks that a person moved, and says so', async () => {
    const found = await result();
    expect(found.decisions).toEqual([]);
    const cooling = { from: found.segments.cooling.from + 5, to: found.segments.cooling.to };
    await decide({ kind: 'marks', marks: marks(cooling) });
    const decided = await result();
    expect(decided.segments.cooling).toEqual(cooling);
    expect(decided.decisions).toEqual([expect.objectContaining({ kind: 'marks', applies: true })]);
    expect(flowing((await analyze()).stdout)).toContain(
      'decided marks moved by Ines, 2026-03-09: the jet was touched',
    );
    expect((await analyze('--brief')).stdout).toContain('marks moved by Ines');
    // Without the experiment nobody knows of decisions.
    const alone = ['--thermocouple', 'T', '--junction', 'ice', '--gain', '200', '--json'];
    const own = JSON.parse((await runCommand(['analyze', file, ...alone])).stdout);
    expect(resultSchema.parse(own).segments.cooling).not.toEqual(cooling);
  });

  test('leaves marks aside for a heating that is asked for', async () => {
    const found = await result();
    await decide({ kind: 'marks', marks: marks({ from: found.segments.cooling.from + 5, to: 200 }) });
    expect((await result('--heating', '1')).segments).toEqual(found.segments);
    expect(flowing((await analyze('--heating', '1')).stdout)).toContain('not used, for --heating is given');
  });

  test('reads a file as a person said; options over that', async () => {
    const found = await result();
    const rows = readFileSync(file, 'utf8').split(/\r?\n/);
    writeFileSync(file, rows.flatMap((row) => row.split('\t')[1] ?? []).join('\n'));
    expect((await analyze()).status).toBe(2);
    await decide({ kind: 'reading', read: { rate: 50, unit: 'V' } }, '');
    const decided = await result();
    // Half as many readings a second: everything lasts twice as long.
    expect(decided.recording.rate).toBe(50);
    expect(decided.timeConstant.value / found.timeConstant.value).toBeCloseTo(2, 1);
    const { status, stdout } = await analyze();
    expect(status).not.toBe(2);
    expect(flowing(stdout)).toContain('decided read in V, sampled at 50 Hz, by Ines, 2026-03-09');
    const given = await result('--rate', '100 Hz');
    expect(given.recording).toMatchObject({ rate: 100, unit: 'V' });
    expect(given.timeConstant.value).toBeCloseTo(found.timeConstant.value, 3);

    const compared = await runCommand(['compare', folder]);
    expect(flowing(compared.stdout)).toContain('It is read as Ines said, in V, sampled at 50 Hz');
  });

  test('says that a person took a recording out, and what does not count for other bytes', async () => {
    await decide({ kind: 'reject' });
    expect(flowing((await analyze()).stdout)).toContain(
      'taken out of the comparison by Ines, 2026-03-09: the jet was touched',
    );
    writeFileSync(file, `${readFileSync(file, 'utf8')}\n`);
    const words = flowing((await analyze()).stdout);
    expect(words).not.toContain('taken out of the comparison');
    expect(words).toContain('It was made for other bytes');
  });

  test('stops at decisions that cannot be read, and names their file', async () => {
    const path = join(folder, 'decisions', `${recording}.json`);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, '{ "decisions": [');
    const { status, stderr } = await analyze();
    expect(status).toBe(2);
    expect(stderr).toContain('is not JSON');
    expect(stderr).toContain(`${recording}.json`);
  });
});
