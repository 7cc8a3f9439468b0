import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { runCommand } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-predict-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const thornwick = join('examples', 'thornwick');
const thornwickText = readFileSync(join(thornwick, 'experiment.yaml'), 'utf8');

function experimentFolder(name: string, text: string): string {
  const path = join(folder, name);
  mkdirSync(path);
  writeFileSync(join(path, 'experiment.yaml'), text);
  return path;
}

const lineSchema = z.object({
  condition: z.object({ body: z.string(), flow: z.string() }),
  velocity: z.number(),
  reynolds: z.number(),
  prandtl: z.number(),
  nusselt: z.number(),
  heatTransferCoefficient: z.object({
    convection: z.number(),
    radiation: z.number(),
    stem: z.number(),
    total: z.number(),
  }),
  biot: z.object({ volumeToArea: z.number(), diameter: z.number() }),
  lumped: z.object({ timeConstant: z.number() }),
  timeConstant: z.object({
    value: z.number(),
    standardUncertainty: z.number(),
    interval: z.tuple([z.number(), z.number().nullable()]),
    coverage: z.number(),
  }),
  budget: z.array(z.object({ input: z.string(), share: z.number() })),
  remarks: z.array(z.object({ code: z.string(), message: z.string(), action: z.string() })),
});

describe('predict', () => {
  test('prints one JSON object a condition, in SI, that fits together', async () => {
    const { status, stdout } = await runCommand(['predict', thornwick, '--json']);
    expect(status).toBe(0);
    const lines = stdout
      .trim()
      .split('\n')
      .map((line) => lineSchema.parse(JSON.parse(line)));
    expect(lines.map(({ condition }) => `${condition.body}@${condition.flow}`)).toHaveLength(9);
    for (const { biot, heatTransferCoefficient: h, timeConstant, budget } of lines) {
      // Of a sphere, D is six times V/A.
      expect(biot.diameter / biot.volumeToArea).toBeCloseTo(6, 10);
      expect(h.convection + h.radiation + h.stem).toBeCloseTo(h.total, 8);
      expect(timeConstant.interval[0]).toBeLessThan(timeConstant.value);
      expect(budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 6);
    }
    // rho c D/(6 h) with brass of 7.71 g in 12 mm: the lumped time constant from the printed h, by hand.
    const brass = lines[0];
    if (brass === undefined) throw new Error('nothing was predicted');
    const area = Math.PI * 0.012 ** 2;
    const capacity = brass.lumped.timeConstant * brass.heatTransferCoefficient.total * area;
    // Cartridge brass, 380 J/(kg K) at 300 K and 395 at 400 K (Incropera et al., 6th ed., Table A.1).
    expect(capacity / 0.00771).toBeGreaterThan(380);
    expect(capacity / 0.00771).toBeLessThan(395);
  });

  test('gives the numbers of all conditions where one remark is of several', async () => {
    const still = experimentFolder('still', thornwickText.replace('flows:\n', 'flows:\n  still: still\n'));
    const { stdout } = await runCommand(['predict', still, '--json']);
    const byCode = new Map<string, Set<string>>();
    for (const line of stdout.trim().split('\n')) {
      for (const { code, message } of lineSchema.parse(JSON.parse(line)).remarks) {
        byCode.set(code, (byCode.get(code) ?? new Set()).add(message));
      }
    }
    const { stdout: text } = await runCommand(['predict', still]);
    const said = text.replaceAll(/\s+/g, ' ');
    let differing = 0;
    for (const messages of byCode.values()) {
      if (messages.size < 2) continue;
      differing += 1;
      // No single condition's numbers stand for the others'.
      const printed = [...messages].filter((message) => said.includes(message));
      expect([0, messages.size]).toContain(printed.length);
    }
    expect(differing).toBeGreaterThan(0);
    expect(said).toMatch(/\d–\d/);
  });

  test('takes a condition in each of its spellings, and a body for all its flows', async () => {
    const asked = async (...conditions: string[]) => {
      const { stdout } = await runCommand(['predict', thornwick, '--json', '--condition', ...conditions]);
      return stdout
        .trim()
        .split('\n')
        .map((line) => lineSchema.parse(JSON.parse(line)).condition);
    };
    const one = [{ body: 'brass-12', flow: '120' }];
    expect(await asked('brass-12@120')).toEqual(one);
    expect(await asked('brass-12_120')).toEqual(one);
    expect(await asked('brass-12 at 120', 'brass-12@120')).toEqual(one);
    expect(await asked('aluminium-20')).toHaveLength(2);
    // Left out of the session, but it can be asked about.
    expect(await asked('bare-junction@60')).toEqual([{ body: 'bare-junction', flow: '60' }]);
  });

  test('says which condition there is not', async () => {
    const { status, stderr } = await runCommand(['predict', thornwick, '--condition', 'steel@120']);
    expect(status).toBe(2);
    expect(stderr).toContain('--condition steel@120: the experiment file has no such body and flow');
    expect(stderr).toContain('brass-12@60');
  });

  test('prints tables within 80 columns with what ±30 % in h is in tau', async () => {
    const { status, stdout } = await runCommand(['predict', thornwick]);
    expect(status).toBe(0);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    const text = stdout.replaceAll(/\s+/g, ' ');
    // 1/1.3 - 1 = -23 %, 1/0.7 - 1 = +43 %.
    expect(text).toContain('±30 % in h is -23/+43 % in tau');
    expect(text).toContain('correlation 9');
    expect(stdout).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('goes on after a condition that cannot be predicted, and asks for what is missing', async () => {
    const text = thornwickText.replace('diameter: 20.00 mm +- 0.02 mm, material: brass', 'material: brass');
    const path = experimentFolder('missing', text);
    const { status, stdout } = await runCommand(['predict', path]);
    expect(status).toBe(2);
    expect(stdout.replaceAll(/\s+/g, ' ')).toContain('write the diameter');
    expect(stdout).toContain('39.4');
    for (const line of stdout.split('\n')) {
      if (!line.includes(path)) expect(line.length).toBeLessThanOrEqual(80);
    }
    const json = await runCommand(['predict', path, '--json']);
    const failed = json.stdout.split('\n').filter((line) => line.includes('not-predicted'));
    expect(failed).toHaveLength(2);
  });

  test('writes null where the interval has no upper end', async () => {
    const text = `${thornwickText}\nprediction: { accuracy: 90 %, coverage-factor: 1 }\n`;
    const path = experimentFolder('open', text);
    const { status, stdout } = await runCommand(['predict', path, '--json', '--condition', 'brass-12@120']);
    expect(status).toBe(0);
    expect(lineSchema.parse(JSON.parse(stdout)).timeConstant.interval[1]).toBeNull();
    const { stdout: table } = await runCommand(['predict', path, '--condition', 'brass-12@120']);
    expect(table).toContain('up, no end');
    expect(table).not.toContain('Infinity');
  });
});
