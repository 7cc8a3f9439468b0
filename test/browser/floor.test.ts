import { createHash } from 'node:crypto';
import { mkdir, readFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openWorkbench } from '../../src/server/index.ts';
import { appendDecision } from '../../src/store/index.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { Logger } from '../support/logger.ts';
import { type Bench, openBench } from './support.ts';
import { accessible, openPlace } from './views.ts';

const place = { name: 'floor', path: '/floor', whole: '.tile' };

let bench: Bench;
const logger = new Logger();
beforeAll(async () => {
  bench = await openBench([]);
}, 60_000);
afterAll(async () => {
  await logger.end();
  await bench?.close();
});

async function hashOfFile(path: string): Promise<string> {
  return createHash('sha256')
    .update(await readFile(join(bench.folder, path)))
    .digest('hex');
}

/** Begins a file of a group's own, as its logger does. */
async function begin(path: string): Promise<void> {
  const file = join(bench.folder, path);
  await mkdir(dirname(file), { recursive: true });
  await logger.open(file);
}

function tileOf(page: Page, name: string) {
  return page.getByRole('article', { name, exact: true });
}

it('changes by itself while a logger writes: phase, what to do, and a call to repeat', async () => {
  const page = await openPlace(bench, place);
  await page.getByText('No session yet.').waitFor();
  await page.getByText('Nobody needs you now.').waitFor();

  const pieces = trialPieces();
  await begin('recordings/A/A1/brass-12_120-1.txt');
  await logger.write(pieces.slice(0, 12).join(''));
  const tile = tileOf(page, 'A1');
  await tile.getByText('baseline', { exact: true }).waitFor();
  await tile.getByText('brass-12 at 120, repeat 1').waitFor();
  await tile.getByText('go on', { exact: true }).waitFor();
  await page.getByText('No session yet.').waitFor({ state: 'detached' });

  await logger.write(pieces.slice(12, 35).join(''));
  await tile.getByText('heating', { exact: true }).waitFor();
  await page.getByText('Take care:').waitFor();
  await logger.write(pieces.slice(35, 80).join(''));
  await tile.getByText('cooling', { exact: true }).waitFor();
  await tile.getByText(/\d s left \(/).waitFor();
  await tile.getByText('error fraction', { exact: true }).waitFor();

  // The logger of another bench loses readings in the middle of the cooling: its trial is lost.
  await begin('recordings/A/A2/brass-12_120-1.txt');
  const whole = trialPieces({ seed: 3 });
  await logger.write([...whole.slice(0, 54), ...whole.slice(76, 88)].join(''));
  const lost = tileOf(page, 'A2');
  await lost.getByText('repeat', { exact: true }).waitFor();
  await page.getByRole('list').getByRole('link', { name: /^A2/ }).click();
  expect(await lost.evaluate((one) => one.matches(':target'))).toBe(true);
  await expect.poll(() => page.title()).toMatch(/^\(\d\) floor/);
  await page
    .getByRole('log')
    .getByText(/^A2 at/)
    .waitFor({ state: 'attached' });
  await page.close();
  expect(bench.troubles()).toEqual([]);
});

it('hides who is who from a class, and is heard only where that is wanted', async () => {
  const page = await openPlace(bench, place, '?view=projector');
  await page.getByRole('heading', { name: 'brass-12 at 120' }).first().waitFor();
  expect(await page.locator('main').textContent()).not.toMatch(/A[12]|bench-\d/);
  const sound = page.getByRole('button', { name: 'turn on sound for urgent calls' });
  await sound.focus();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'turn sound off' }).waitFor();
  await page.close();
});

it('says nothing personal to a class, also of trials that somebody took out', async () => {
  const path = 'recordings/A/A3/brass-12_120-1.txt';
  await begin(path);
  await logger.write(trialPieces({ seed: 4 }).join(''));
  await appendDecision(
    bench.folder,
    path,
    { kind: 'reject' },
    {
      who: 'R. Hale',
      why: 'the jet was touched',
      at: '2026-03-02T14:00:00Z',
      sha256: await hashOfFile(path),
    },
  );
  await begin('recordings/A/A3/brass-12_120-2.txt');
  await logger.write(trialPieces({ seed: 5 }).slice(0, 12).join(''));
  const usual = await openPlace(bench, place);
  await usual.getByText('R. Hale took it out: the jet was touched').waitFor();
  await usual.close();
  const page = await openPlace(bench, place, '?view=projector');
  await page.getByText('A person took it out: the jet was touched').waitFor();
  expect(await page.locator('main').textContent()).not.toMatch(/A[1-4]|bench-\d|Hale/);
  await page.close();
});

it('says since when the connection is lost, and comes back by itself', async () => {
  const workbench = await openWorkbench({
    folder: bench.folder,
    pageFolder: resolve('dist/web'),
    log: () => undefined,
  });
  const before = await workbench.listen(0);
  const context = await bench.browser.newContext();
  const page = await context.newPage();
  await page.goto(`http://localhost:${before.port}/floor`);
  await page.getByText(/^watching,/).waitFor();
  await before.close();
  await page.getByRole('alert').getByText('Connection lost at').waitFor();
  expect(await page.getByText(/^watching,/).count()).toBe(0);
  expect(await page.getByRole('article').count()).toBe(4);
  const after = await workbench.listen(before.port);
  await page.getByText(/^watching,/).waitFor();
  expect(await page.getByRole('alert').count()).toBe(0);
  await context.close();
  await after.close();
  await workbench.close();
});

it('can be read by everybody and on a phone', async () => {
  await accessible(bench, place);
});
