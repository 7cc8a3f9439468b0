import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, expect, it } from 'vitest';
import type { DownloadOrder } from '../../src/server/download-order.ts';
import { type Downloads, openDownloads } from '../../src/server/downloads.ts';
import { openLanes } from '../../src/server/lanes.ts';
import { listen, loopback } from '../../src/server/listen.ts';
import { testServer } from './app.ts';

const module = pathToFileURL(resolve('test/support/download-process.mjs'));
const setting = { format: 'pdf', paper: null, figures: null } as const;
const sheet: DownloadOrder = { kind: 'bench-sheet', ...setting };
const never: DownloadOrder = { kind: 'trial', path: 'a', ...setting };

const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

function opened(): Downloads {
  const downloads = openDownloads('folder', module);
  closing.push(downloads.close);
  return downloads;
}

const patient = () => new AbortController().signal;

/** Number of the process that answered. */
async function processOf(downloads: Downloads): Promise<number> {
  const { name } = await downloads.make(sheet, patient());
  return Number(name.replace('folder ', ''));
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

it('makes files in a process of its own, and uses it again', async () => {
  const downloads = opened();
  const made = await downloads.make(sheet, patient());
  expect(made).toMatchObject({ type: 'text/plain', remarks: ['a'] });
  expect([...made.bytes]).toEqual([0, 255, 10, 13]);
  const first = await processOf(downloads);
  expect(first).not.toBe(process.pid);
  expect(await processOf(downloads)).toBe(first);
});

it('hands on why something cannot be made, and survives a process that ends or talks nonsense', async () => {
  const downloads = opened();
  const figure: DownloadOrder = { kind: 'figure', path: 'a', format: 'svg' };
  await expect(downloads.make(figure, patient())).rejects.toMatchObject({
    kind: 'unfit',
    message: 'No figure.',
    mend: 'Take another.',
  });
  const lost: DownloadOrder = { kind: 'worked', path: 'a', ...setting };
  await expect(downloads.make(lost, patient())).rejects.toThrow('ended by itself');
  const nonsense: DownloadOrder = { kind: 'cooling', path: 'a', format: 'csv' };
  await expect(downloads.make(nonsense, patient())).rejects.toThrow();
  expect(await processOf(downloads)).toBeGreaterThan(0);
});

it('ends the work that nobody waits for, and gives its room to the next', async () => {
  const downloads = opened();
  const working = await processOf(downloads);
  const gone = [new AbortController(), new AbortController(), new AbortController()];
  // The first two take all room there is, the third waits.
  const asked = gone.map(({ signal }) => downloads.make(never, signal).catch((error: unknown) => error));
  const next = processOf(downloads);
  for (const one of gone) one.abort(new Error('went away'));
  for (const answer of await Promise.all(asked)) expect(answer).toMatchObject({ message: 'went away' });
  expect(await next).not.toBe(working);
  await expect.poll(() => runs(working)).toBe(false);
  await expect(downloads.make(sheet, AbortSignal.abort(new Error('before')))).rejects.toThrow('before');
});

it('ends its processes when it is closed', async () => {
  const downloads = opened();
  const working = await processOf(downloads);
  await downloads.close();
  await expect.poll(() => runs(working)).toBe(false);
});

it('lets so many work at once, so many wait, and refuses the rest', async () => {
  const lanes = openLanes(1, 1);
  const order: string[] = [];
  let end = () => {};
  const first = lanes(async () => {
    order.push('first');
    await new Promise<void>((resolve) => {
      end = resolve;
    });
  }, patient());
  const second = lanes(async () => void order.push('second'), patient());
  await expect(lanes(async () => undefined, patient())).rejects.toMatchObject({ kind: 'busy' });
  expect(order).toEqual(['first']);
  end();
  await Promise.all([first, second]);
  expect(order).toEqual(['first', 'second']);
  await expect(lanes(() => Promise.reject(new Error('failed')), patient())).rejects.toThrow('failed');
  expect(await lanes(async () => 'after', patient())).toBe('after');
});

it('hears when the one who asked goes away, and answers others meanwhile', async () => {
  let begun = () => {};
  const started = new Promise<void>((resolve) => {
    begun = resolve;
  });
  let heard = () => {};
  const left = new Promise<void>((resolve) => {
    heard = resolve;
  });
  const server = await testServer({
    downloads: {
      make: (_, signal) => {
        begun();
        return new Promise((_resolve, reject) => {
          signal.addEventListener('abort', () => {
            heard();
            reject(signal.reason);
          });
        });
      },
      close: async () => undefined,
    },
  });
  const { port, close } = await listen(() => server.app, { port: 0, address: loopback, certificate: null });
  closing.push(close, server.remove);
  const base = `http://127.0.0.1:${port}/api`;
  const browser = new AbortController();
  const asked = fetch(`${base}/documents/bench-sheet?format=pdf`, { signal: browser.signal }).catch(
    (error: unknown) => error,
  );
  await started;
  expect((await fetch(`${base}/experiment`)).status).toBe(200);
  browser.abort();
  await left;
  expect(await asked).toBeInstanceOf(Error);
  expect(server.logged).toEqual([]);
});
