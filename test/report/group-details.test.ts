import { cpSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import {
  type DetailAnswer,
  type DetailOrder,
  openAnalysis,
  readableDetails,
  type ThreadCrew,
  threadCrew,
} from '../../src/analysis/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-details-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const demo = join('demo', 'thornwick');
const recordings = join('recordings', 'A', 'A1');
cpSync(join(demo, recordings), join(root, recordings), { recursive: true });
cpSync(join(demo, 'experiment.yaml'), join(root, 'experiment.yaml'));
writeFileSync(join(root, recordings, 'brass-12_120-9.txt'), 'nothing\n');
const paths = readdirSync(join(root, recordings)).map((name) => `recordings/A/A1/${name}`);
const person = { who: 'Ines', why: 'the jet was touched', at: '2026-03-09T11:00:00Z' };

async function detailsBy(details?: ThreadCrew<DetailOrder, DetailAnswer>) {
  const analysis = await openAnalysis(root, { hands: 0 });
  const told: string[] = [];
  const tell = (done: number, total: number) => told.push(`${done} of ${total}`);
  const found = await readableDetails(analysis, paths, { tell, ...(details && { details }) });
  await analysis.close();
  return { found, told };
}

describe('everything about recordings, by threads', () => {
  const built = resolve('dist', 'detail-worker.js');

  test('is what this thread tells, with marks of a person too, and leaves out what cannot be read', async () => {
    expect(existsSync(built), 'run npm run build first').toBe(true);
    const analysis = await openAnalysis(root, { hands: 0 });
    const [first = ''] = paths;
    const { cooling } = (await analysis.detail(first)).used;
    const marks = {
      baseline: null,
      heating: null,
      cooling: { from: (cooling?.from ?? 0) + 5, to: cooling?.to ?? 0 },
    };
    await analysis.decide(first, { kind: 'marks', marks }, person);
    await analysis.close();
    rmSync(join(root, 'results'), { recursive: true });

    const crew = threadCrew<DetailOrder, DetailAnswer>(pathToFileURL(built), { hands: 2 });
    const threads = await detailsBy(crew);
    await crew.close();
    // Also what the list keeps of it: nothing is left to be analyzed.
    const after = await openAnalysis(root, { hands: 0 });
    expect(after.list().progress).toEqual({ done: paths.length - 1, total: paths.length });
    await after.close();
    rmSync(join(root, 'results'), { recursive: true });

    const here = await detailsBy();
    expect([...threads.found.keys()]).toEqual([...here.found.keys()]);
    expect(JSON.stringify([...threads.found])).toBe(JSON.stringify([...here.found]));
    expect(threads.found.size).toBe(paths.length - 1);
    expect(threads.found.get(first)?.used.cooling).toEqual(marks.cooling);
    expect(threads.told.at(-1)).toBe(`${paths.length} of ${paths.length}`);
  });

  test('that end leave their recordings out', async () => {
    const ending = new URL(
      `data:text/javascript,${encodeURIComponent("import { parentPort } from 'node:worker_threads';\nparentPort.on('message', () => process.exit(3));")}`,
    );
    const crew = threadCrew<DetailOrder, DetailAnswer>(ending, { hands: 2 });
    const { found, told } = await detailsBy(crew);
    await crew.close();
    expect(found.size).toBe(0);
    expect(told).toHaveLength(paths.length);
  });
});
