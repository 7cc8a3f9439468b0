import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { type Analyst, analyzeForList, type LongWork, openAnalysis } from '../../src/analysis/index.ts';
import { makeResults } from '../../src/export/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-exports-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const demo = join('demo', 'thornwick');
const group = join('recordings', 'A', 'A1');
const names = readdirSync(join(demo, group)).slice(0, 2);

/** A folder with two recordings of the demo, and a file that is none. */
function folderFor(name: string): string {
  const folder = join(root, name);
  mkdirSync(join(folder, group), { recursive: true });
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  for (const one of names) cpSync(join(demo, group, one), join(folder, group, one));
  writeFileSync(join(folder, group, 'brass-12_120-9.txt'), 'nothing\n');
  return folder;
}

/** Work by one hand that counts what it has to analyze. */
function counted(signal?: AbortSignal, tell?: (done: number, total: number) => void) {
  const calls: string[] = [];
  const analyst: Analyst = (order) => {
    calls.push(order.file);
    return analyzeForList(order);
  };
  const crew = { analyst, hands: 1, close: async () => undefined };
  const work: LongWork = { crew, ...(signal && { signal }), ...(tell && { tell }) };
  return { work, calls };
}

const csvOf = async (folder: string, work: LongWork) => {
  const { files } = await makeResults(folder, 'csv', null, work);
  return Buffer.from(files[0]?.bytes ?? []).toString();
};

describe('an export of results', () => {
  test('tells of a recording what its whole analysis tells', async () => {
    const folder = folderFor('same');
    await csvOf(folder, counted().work);
    const analysis = await openAnalysis(folder, { hands: 0 });
    for (const name of names) {
      const path = `recordings/A/A1/${name}`;
      const kept = analysis.keptDetail(path);
      const whole = await analysis.detail(path);
      const { file, read, endFraction, ambient, adequacy, prediction } = whole;
      expect(kept).toMatchObject({
        file: { sha256: file.sha256 },
        read: { rate: read.rate, samples: read.samples },
        endFraction,
        ambient: { value: ambient?.value, standardUncertainty: ambient?.standardUncertainty },
        adequacy: { firstOrder: adequacy?.firstOrder },
        prediction: { timeConstant: prediction?.timeConstant, interval: prediction?.interval },
      });
      expect(whole.estimates).toMatchObject(kept?.estimates ?? []);
      expect(kept?.estimates).toHaveLength(whole.estimates.length);
    }
    expect(analysis.keptDetail('recordings/A/A1/brass-12_120-9.txt')).toBeNull();
    await analysis.close();
  });

  test('says why a recording could not be read', async () => {
    const rows = (await csvOf(folderFor('unreadable'), counted().work)).split(/\r?\n/);
    expect(rows.find((row) => row.includes('brass-12_120-9'))).toMatch(/,unreadable,.*No rows of numbers/);
  });

  test('is made from what was kept, and the same to a byte', async () => {
    const folder = folderFor('again');
    const first = counted();
    const made = await csvOf(folder, first.work);
    expect(first.calls).toHaveLength(3);
    const second = counted();
    expect(await csvOf(folder, second.work)).toBe(made);
    expect(second.calls).toEqual([]);
  });

  test('that was broken off goes on where it was', async () => {
    const folder = folderFor('broken-off');
    const end = new AbortController();
    const told: string[] = [];
    const first = counted(end.signal, (done, total) => {
      told.push(`${done} of ${total}`);
      if (done === 1) end.abort(new Error('enough'));
    });
    await expect(csvOf(folder, first.work)).rejects.toThrow('enough');
    expect(first.calls).toHaveLength(1);
    expect(told).toContain('1 of 3');
    const rest = counted();
    expect((await csvOf(folder, rest.work)).split(/\r?\n/).length).toBeGreaterThan(3);
    expect(rest.calls).toHaveLength(2);
  });
});
