import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { remarkCatalogue } from '../../src/remark/index.ts';
import { runCommand } from './run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-check-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const reportSchema = z.strictObject({
  file: z.string(),
  fits: z.literal(true),
  conditions: z.strictObject({
    measured: z.array(z.strictObject({ body: z.string(), flow: z.string() })),
    leftOut: z.array(z.strictObject({ body: z.string(), flow: z.string(), why: z.string() })),
  }),
  remarks: z.array(
    z.strictObject({
      code: z.string(),
      severity: z.enum(['note', 'caution', 'repeat']),
      message: z.string(),
      action: z.string(),
      place: z.array(z.string()),
      conditions: z.array(z.string()),
      line: z.number(),
    }),
  ),
});

async function fresh(name: string): Promise<string> {
  const folder = join(root, name);
  expect((await runCommand(['new', folder])).status).toBe(0);
  return folder;
}

function edit(folder: string, piece: string, by: string): void {
  const path = join(folder, 'experiment.yaml');
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(piece);
  writeFileSync(path, text.replace(piece, by));
}

describe('emberline new and check', () => {
  test('what new writes, check finds in order', async () => {
    const folder = await fresh('clean');
    const { status, stdout, stderr } = await runCommand(['check', folder]);
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(stdout).toContain('fits');
    expect(stdout).not.toContain('caution ');
    expect(stdout).toContain('3 bodies, 2 flows: 5 conditions, 3 repeats each, 15 trials');
    expect(stdout).toContain('brass-12 at 60: takes too long for the session');
    const longest = Math.max(
      ...stdout
        .split('\n')
        .slice(1)
        .map((line) => line.length),
    );
    expect(longest).toBeLessThanOrEqual(80);
  });

  test('new does not write over an experiment', async () => {
    const folder = await fresh('twice');
    const { status, stdout, stderr } = await runCommand(['new', folder]);
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(/experiment\.yaml: is there already/);
  });

  test('check names what is unusual with its line, and ends with status 1', async () => {
    const folder = await fresh('unusual');
    edit(folder, 'diameter: 8.00 mm', 'diameter: 20.00 mm');
    const line = readFileSync(join(folder, 'experiment.yaml'), 'utf8')
      .split('20.00 mm')[0]
      ?.split('\n').length;
    const { status, stdout } = await runCommand(['check', folder]);
    expect(status).toBe(1);
    expect(stdout).toMatch(/fits, 1 thing to look at/);
    expect(stdout).toContain(`caution    line ${line}, bodies › aluminium-8 › diameter`);
    expect(stdout.replaceAll(/\s+/g, ' ')).toContain('[jet-narrow]');
  });

  test('check gives programs one object, with codes of the catalogue', async () => {
    const folder = await fresh('json');
    edit(folder, 'target: 95 degC ', 'target: 150 degC ');
    const { status, stdout } = await runCommand(['check', folder, '--json']);
    expect(status).toBe(1);
    const report = reportSchema.parse(JSON.parse(stdout));
    expect(report.conditions.measured).toContainEqual({ body: 'brass-12', flow: '120' });
    expect(report.conditions.leftOut).toHaveLength(1);
    for (const { code } of report.remarks) expect(Object.keys(remarkCatalogue)).toContain(code);
    const over = report.remarks.filter(({ code }) => code === 'target-over-limit');
    // Of the protocol, and of three bodies.
    expect(over).toHaveLength(4);
  });

  test('a file that does not fit ends with status 2: file, line, what, mend', async () => {
    const folder = await fresh('faults');
    edit(folder, '2.0 bar(g) +- 0.1 bar', '2.0 bar');
    edit(folder, 'mass: 7.71 g +- 0.01 g', 'mass: 7.71');
    const plain = await runCommand(['check', folder]);
    expect(plain.status).toBe(2);
    expect(plain.stdout).toBe('');
    const [first = '', second = ''] = plain.stderr.trim().split('\n');
    expect(first).toMatch(
      /experiment\.yaml, line \d+: meter › line › pressure: .*2\.0 bar\(g\).*2\.0 bar\(a\)/,
    );
    expect(second).toMatch(
      /experiment\.yaml, line \d+: bodies › brass-12 › mass: "7\.71" has no unit.*7\.71 g/,
    );
    const json = await runCommand(['check', folder, '--json']);
    expect(json.status).toBe(2);
    const { fits, faults } = z
      .object({
        fits: z.boolean(),
        faults: z.array(z.object({ line: z.number(), place: z.string(), message: z.string() })),
      })
      .parse(JSON.parse(json.stdout));
    expect(fits).toBe(false);
    expect(faults.map(({ place }) => place)).toEqual(['meter › line › pressure', 'bodies › brass-12 › mass']);
  });

  test('recordings whose paths do not say what they are of are asked about', async () => {
    const folder = await fresh('paths');
    mkdirSync(join(folder, 'recordings', 'A1'), { recursive: true });
    writeFileSync(join(folder, 'recordings', 'A1', 'brass-12_120_1.txt'), '');
    expect((await runCommand(['check', folder])).status).toBe(0);
    writeFileSync(join(folder, 'recordings', 'A1', 'brass-21_120_1.txt'), '');
    writeFileSync(join(folder, 'recordings', 'A1', 'run3.csv'), '');
    const { status, stdout } = await runCommand(['check', folder]);
    expect(status).toBe(1);
    const flat = stdout.replaceAll(/\s+/g, ' ');
    expect(flat).toContain(
      'recordings/A1/brass-21_120_1.txt: In the path, body "brass-21" is not in the experiment file.',
    );
    expect(flat).toContain('recordings/A1/run3.csv: The path does not fit the pattern');
  });

  test('names from a file cannot steer the terminal', async () => {
    const folder = await fresh('escape');
    mkdirSync(join(folder, 'recordings'), { recursive: true });
    writeFileSync(join(folder, 'recordings', '\u001b[2Jcleared\u202e.txt'), '');
    const { stdout } = await runCommand(['check', folder]);
    expect(stdout).not.toContain('\u001b');
    expect(stdout).not.toContain('\u202e');
    expect(stdout).toContain(String.raw`\u001b[2Jcleared\u202e.txt`);
    edit(folder, 'why: takes too long for the session', String.raw`why: "\e[2Jcleared"`);
    const refused = await runCommand(['check', folder]);
    expect(refused.status).toBe(2);
    expect(refused.stderr).not.toContain('\u001b');
    expect(refused.stderr).toContain('cannot be seen');
  });

  test('the example folder is described, and its recordings say what they are of', async () => {
    const { status, stdout } = await runCommand(['check', join('examples', 'thornwick'), '--json']);
    // The larger spheres are wider than the jet: that is what check is to show there.
    expect(status).toBe(1);
    const { remarks } = reportSchema.parse(JSON.parse(stdout));
    const cautions = remarks.filter(({ severity }) => severity !== 'note').map(({ code }) => code);
    expect(cautions).toEqual(['jet-narrow', 'jet-narrow']);
  });

  test('both explain themselves by examples, with their exit status', async () => {
    for (const command of ['new', 'check']) {
      const { status, stdout } = await runCommand([command, '--help']);
      expect(status).toBe(0);
      expect(stdout).toContain('Examples:');
      expect(stdout).toContain('Exit status:');
    }
    expect((await runCommand(['check'])).status).toBe(2);
    const nowhere = await runCommand(['check', join(root, 'nowhere')]);
    expect(nowhere.status).toBe(2);
    expect(nowhere.stderr).toContain('no such file');
  });
});
