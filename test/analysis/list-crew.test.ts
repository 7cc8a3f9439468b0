import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, afterEach, describe, expect, test, vi } from 'vitest';
import {
  analyzeForList,
  experimentDecaySettings,
  type ListCrew,
  type ListOrder,
  listCrew,
  sensorSettings,
} from '../../src/analysis/index.ts';
import { readExperiment } from '../../src/store/index.ts';

const demo = join('demo', 'thornwick');
const experiment = await readExperiment(demo);
const group = join(demo, 'recordings', 'A', 'A1');
const files = readdirSync(group).map((name) => join(group, name));
const orderFor = (file: string): ListOrder => ({
  file,
  read: {},
  chain: sensorSettings(experiment),
  settings: experimentDecaySettings(experiment, ''),
});

const folder = mkdtempSync(join(tmpdir(), 'emberline-crew-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let crew: ListCrew | null = null;
afterEach(async () => {
  await crew?.close();
  crew = null;
});

function crewOf(module: URL, hands = 2): ListCrew {
  crew = listCrew(module, hands);
  return crew;
}

/** A thread of a few lines, as a module. */
function threadOf(body: string): URL {
  const code = `import { parentPort } from 'node:worker_threads';\nimport { appendFileSync, readFileSync } from 'node:fs';\n${body}`;
  return new URL(`data:text/javascript,${encodeURIComponent(code)}`);
}

const answer = (message: string) => `{ sha256: null, result: { kind: 'unreadable', message: ${message} } }`;

describe('a built thread', () => {
  const built = resolve('dist', 'list-worker.js');

  test('answers as this thread does, also several at once and for a file that is none', async () => {
    expect(existsSync(built), 'run npm run build first').toBe(true);
    const { analyst } = crewOf(pathToFileURL(built));
    const orders = [...files.slice(0, 2), join(folder, 'nothing.txt')].map(orderFor);
    const answers = await Promise.all(orders.map(analyst));
    for (const [i, order] of orders.entries()) expect(answers[i]).toEqual(await analyzeForList(order));
    expect(answers[0]?.sha256).toBe(
      createHash('sha256')
        .update(readFileSync(files[0] ?? ''))
        .digest('hex'),
    );
    expect(answers[2]?.result.kind).toBe('unreadable');
  });
});

describe('a thread that ends', () => {
  /** Every start leaves a letter; what a thread does hangs on how many there were before it. */
  const counting = (name: string, body: string) => {
    const log = join(folder, name);
    const url = threadOf(
      `const log = ${JSON.stringify(log)};\nappendFileSync(log, 'x');\nconst start = readFileSync(log, 'utf8').length;\n${body}`,
    );
    return { url, starts: () => (existsSync(log) ? readFileSync(log, 'utf8').length : 0) };
  };

  test('is started again, and the recording tried once more', async () => {
    const { url, starts } = counting(
      'once',
      `parentPort.on('message', (order) => start === 1 ? process.exit(3) : parentPort.postMessage(${answer('order.file')}));`,
    );
    expect(await crewOf(url).analyst(orderFor('a.txt'))).toMatchObject({ result: { message: 'a.txt' } });
    expect(starts()).toBe(2);
  });

  test('twice leaves the recording unreadable, with nothing to keep, and the next one is read', async () => {
    const { url, starts } = counting(
      'twice',
      `parentPort.on('message', (order) => {
        if (order.file === 'bad.txt') throw new Error('out of something');
        parentPort.postMessage(${answer('order.file')});
      });`,
    );
    const { analyst } = crewOf(url);
    const bad = await analyst(orderFor('bad.txt'));
    expect(bad.sha256).toBeNull();
    expect(bad.result).toMatchObject({
      kind: 'unreadable',
      message: expect.stringMatching(/twice.*memory/),
    });
    expect(starts()).toBe(2);
    expect(await analyst(orderFor('good.txt'))).toMatchObject({ result: { message: 'good.txt' } });
  });

  test('because it had nothing to do is started again when it has', async () => {
    const { url, starts } = counting(
      'rested',
      `parentPort.on('message', (order) => parentPort.postMessage(${answer('order.file')}));`,
    );
    crew = listCrew(url, 1, 1);
    const { analyst } = crew;
    await vi.waitFor(async () => {
      expect(await analyst(orderFor('a.txt'))).toMatchObject({ result: { message: 'a.txt' } });
      expect(starts()).toBeGreaterThan(1);
    });
  });

  test('with its crew leaves nobody waiting, and begins nothing new', async () => {
    const { url, starts } = counting('closed', `parentPort.on('message', () => undefined);`);
    const { analyst, close } = crewOf(url);
    const waiting = analyst(orderFor('a.txt'));
    await close();
    expect((await waiting).result.kind).toBe('unreadable');
    await analyst(orderFor('b.txt'));
    expect(starts()).toBeLessThanOrEqual(1);
  });
});
