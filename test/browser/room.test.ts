import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { appendRelease } from '../../src/store/index.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { Logger } from '../support/logger.ts';
import { openRoomBench, type RoomBench, signInGroup } from './room-bench.ts';
import { serious } from './views.ts';

let bench: RoomBench;
beforeAll(async () => {
  bench = await openRoomBench(['A/A1', 'A/A2']);
}, 60_000);
afterAll(() => bench?.close());

const phone = { viewport: { width: 390, height: 844 } };

/** What a browser says of the refusal that a test provokes. */
function besides(status: number, troubles: readonly string[]): string[] {
  return troubles.filter((one) => !one.includes(`status of ${status}`));
}

/** Whether the page fits the window, and axe-core finds nothing serious on it. */
async function fine(page: Page): Promise<void> {
  expect(await serious(page, null)).toEqual([]);
  const width = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(width).toBeLessThanOrEqual(0);
}

it('lets a group in by its card, says what was wrong with a code, and lets it out again', async () => {
  const page = await bench.device(phone);
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await fine(page);
  await page.getByLabel('Group', { exact: true }).fill('A1');
  await page.getByLabel('Join code').fill('0000-0000');
  await page.keyboard.press('Enter');
  await page.getByRole('alert').getByText('This is not the code of this group.').waitFor();
  await page.getByRole('radio', { name: 'staff' }).check();
  await page.getByRole('alert').waitFor({ state: 'detached' });
  await page.getByRole('radio', { name: 'a group at its bench' }).check();
  await signInGroup(page, 'A1', await bench.codeOf('A1'));
  await page.getByRole('heading', { name: 'Bench 1, section A' }).waitFor();
  await fine(page);
  await page.getByRole('button', { name: 'sign out' }).click();
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await page.context().close();
  expect(besides(401, bench.troubles())).toEqual([]);
});

it('takes a recording and values, and shows the results after the release', async () => {
  const page = await bench.device(phone);
  await signInGroup(page, 'A1', await bench.codeOf('A1'));
  const conditions = page.getByRole('region', { name: 'Recordings', exact: true });
  await conditions.getByText('aluminium-12_120-1.txt').waitFor();
  await conditions
    .getByText(/^Usable/)
    .first()
    .waitFor({ timeout: 60_000 });

  // A cooling that was cut: neither its time constant nor anything that it is read off from is told.
  const cut = trialPieces().slice(0, 56).join('');
  await page.getByLabel('Files of the logger, as it wrote them').setInputFiles({
    name: 'logger.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(cut),
  });
  const file = page.getByRole('region', { name: 'logger.txt' });
  await file.getByText(/readings over/).waitFor();
  await file.getByLabel('What it is of').selectOption({ label: 'brass-12 at 120' });
  expect(await file.getByLabel('Repeat').inputValue()).toBe('2');
  await file.getByRole('button', { name: 'hand it in' }).click();
  await file.getByText('It is handed in as brass-12_120-2.txt.').waitFor();
  await conditions.getByText(/^Repeat it: The recording ends/).waitFor();
  const kept = await readFile(join(bench.folder, 'recordings/A/A1/brass-12_120-2.txt'), 'utf8');
  expect(kept).toBe(cut);

  await page.getByRole('button', { name: 'type values in' }).click();
  const form = page.getByRole('form', { name: 'Values' });
  await form.getByLabel('Recording').selectOption({ label: 'brass-12 at 120, repeat 1' });
  await form.getByLabel('Time constant through origin / s').fill('41.2');
  await form.getByRole('button', { name: 'hand in the values of all recordings' }).click();
  await page.getByText(/^1 value is handed in/).waitFor();
  expect(await readdir(join(bench.folder, 'submissions', 'A1'))).toHaveLength(1);
  expect(await page.getByText('Results and feedback').count()).toBe(0);

  await appendRelease(bench.folder, {
    section: 'A',
    at: new Date().toISOString(),
    who: 'TW',
    released: true,
  });
  await page.reload();
  await page.getByRole('heading', { name: 'Results and feedback' }).waitFor();
  await page
    .getByRole('cell', { name: /^\([\d.]+ ± [\d.]+\) s$/ })
    .first()
    .waitFor();
  await page.getByText(/Each value was worked out once more/).waitFor();
  await fine(page);
  await page.context().close();
  expect(bench.troubles()).toEqual([]);
});

it('tells what to do now while a logger writes, and shows nothing of the other group', async () => {
  const page = await bench.device({ viewport: { width: 1440, height: 900 }, colorScheme: 'dark' });
  await signInGroup(page, 'A2', await bench.codeOf('A2'));
  const pieces = trialPieces({ seed: 5 });
  const logger = new Logger();
  await logger.open(join(bench.folder, 'recordings/A/A2/brass-12_120-2.txt'));
  await logger.write(pieces.slice(0, 70).join(''));
  const now = page.getByRole('region', { name: 'Now', exact: true });
  await now.getByText('to the end fraction').waitFor();
  await now.getByText('go on', { exact: true }).waitFor();
  await now.getByText('Eye protection on.').waitFor();
  await fine(page);
  expect(await page.locator('body').innerText()).not.toMatch(/\bA1\b/);
  await logger.end();
  await page.context().close();
  expect(bench.troubles()).toEqual([]);
});
