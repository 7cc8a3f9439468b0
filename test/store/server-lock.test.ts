import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { FolderServedError, readDecisions, readTrail, serveAlone } from '../../src/store/index.ts';
import { storeProcesses } from './processes.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-served-'));
let processes: Awaited<ReturnType<typeof storeProcesses>>;
beforeAll(async () => {
  processes = await storeProcesses();
});
afterAll(() => {
  processes.end();
  rmSync(base, { recursive: true, force: true });
});
afterEach(() => {
  vi.useRealTimers();
});
const newFolder = () => mkdtempSync(join(base, 'folder-'));
const lockOf = (folder: string) => join(folder, '.server.json');

describe('One server per folder', () => {
  test('keeps a second one out, and says who holds it and what to do', async () => {
    const folder = newFolder();
    const [first, second] = [await processes.start(), await processes.start()];
    expect(await first.tell({ act: 'serve', folder })).toBe('alone');
    const refused = await second.tell({ act: 'serve', folder });
    expect(refused).toMatch(/another server works on this folder \(process \d+ on .+, since 20\d\d-/);
    expect(refused).toContain('Ctrl-C');
    await first.kill();
    await second.kill();
  });

  test('lets the next one in at once where the first was killed', async () => {
    const folder = newFolder();
    const first = await processes.start();
    await first.tell({ act: 'serve', folder });
    await first.kill();
    const second = await processes.start();
    expect(await second.tell({ act: 'serve', folder })).toMatch(/^process \d+ on /);
    await second.kill();
  });

  test('lets one of many in that start at once', async () => {
    const folder = newFolder();
    const many = await Promise.all(Array.from({ length: 4 }, () => processes.start()));
    const answers = await Promise.all(many.map((one) => one.tell({ act: 'serve', folder })));
    expect(answers.filter((answer) => answer === 'alone')).toHaveLength(1);
    await Promise.all(many.map((one) => one.kill()));
  });

  test('leaves nothing behind where it ends', async () => {
    const folder = newFolder();
    const served = await serveAlone(folder, Date.now());
    expect(existsSync(lockOf(folder))).toBe(true);
    await expect(serveAlone(folder, Date.now())).rejects.toThrow(FolderServedError);
    await served.release();
    expect(readdirSync(folder)).toEqual([]);
  });

  test('knows another process of the same number from the one that was killed', async () => {
    const folder = newFolder();
    const served = await serveAlone(folder, Date.now());
    const text = readFileSync(lockOf(folder), 'utf8');
    await served.release();
    writeFileSync(lockOf(folder), text.replace(/"started": "\d+"/, '"started": "1"'));
    const next = await serveAlone(folder, Date.now());
    expect(next.killed).toContain(`process ${process.pid}`);
    await next.release();
  });

  /** The same lock as if it were another machine's. */
  async function elsewhere(folder: string) {
    const served = await serveAlone(folder, Date.now());
    const text = readFileSync(lockOf(folder), 'utf8');
    await served.release();
    writeFileSync(
      lockOf(folder),
      text.replace(/"host": ".*"/, '"host": "lab-4"').replace(/"machine": ".*"/, '"machine": "of lab-4"'),
    );
  }

  test('holds against another machine for as long as that one shows that it runs', async () => {
    const folder = newFolder();
    await elsewhere(folder);
    await expect(serveAlone(folder, Date.now())).rejects.toThrow(/on lab-4, .*half a minute/);
    // A machine whose clock is a day behind sees the same: the disk's own clock counts.
    await expect(serveAlone(folder, Date.now() - 86_400_000)).rejects.toThrow('lab-4');
    const old = new Date(statSync(lockOf(folder)).mtimeMs - 31_000);
    utimesSync(lockOf(folder), old, old);
    const next = await serveAlone(folder, Date.now());
    expect(next.killed).toContain('lab-4');
    await next.release();
  });

  test('shows that it runs, by a new time of its file', async () => {
    vi.useFakeTimers({ toFake: ['setInterval'] });
    const folder = newFolder();
    const served = await serveAlone(folder, Date.now());
    const old = new Date(Date.now() - 60_000);
    utimesSync(lockOf(folder), old, old);
    vi.advanceTimersByTime(5000);
    await vi.waitUntil(() => statSync(lockOf(folder)).mtimeMs > old.getTime() + 30_000);
    await served.release();
    expect(existsSync(lockOf(folder))).toBe(false);
  });

  test('is told of where another server took the folder, and leaves that one alone', async () => {
    vi.useFakeTimers({ toFake: ['setInterval'] });
    const folder = newFolder();
    const served = await serveAlone(folder, Date.now());
    const text = readFileSync(lockOf(folder), 'utf8');
    writeFileSync(lockOf(folder), text.replace(/"host": ".*"/, '"host": "lab-4"'));
    vi.advanceTimersByTime(5000);
    await served.lost;
    await served.release();
    expect(readFileSync(lockOf(folder), 'utf8')).toContain('lab-4');
  });

  test('takes a file that no server wrote for none', async () => {
    const folder = newFolder();
    writeFileSync(lockOf(folder), '{"pid": -1}');
    const served = await serveAlone(folder, Date.now());
    expect(served.killed).toBeNull();
    await served.release();
  });
});

describe('What several programs write into one folder', () => {
  test('is kept whole: lines of the trail', async () => {
    const folder = newFolder();
    const many = await Promise.all(Array.from({ length: 3 }, () => processes.start()));
    await Promise.all(many.map((one) => one.tell({ act: 'trail', folder, times: 25 })));
    await Promise.all(many.map((one) => one.kill()));
    for await (const { lines, faults } of readTrail(folder)) {
      expect(faults).toEqual([]);
      expect(lines).toHaveLength(75);
      expect(new Set(lines.map(({ label }) => label)).size).toBe(3);
    }
  });

  test('is kept whole: decisions about one recording', async () => {
    const folder = newFolder();
    const recording = 'recordings/a.txt';
    const many = await Promise.all(Array.from({ length: 3 }, () => processes.start()));
    const orders = Array.from({ length: 12 }, (_, i) => ({ who: `writer ${i}`, by: many[i % 3] }));
    await Promise.all(
      many.map(async (one) => {
        for (const { who, by } of orders) {
          if (by === one) await one.tell({ act: 'decide', folder, recording, who });
        }
      }),
    );
    await Promise.all(many.map((one) => one.kill()));
    const kept = await readDecisions(folder, recording);
    expect(kept.map(({ who }) => who).toSorted()).toEqual(orders.map(({ who }) => who).toSorted());
  });
});
