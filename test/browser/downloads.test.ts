/** Documents and data of the workbench, as a person takes them along. */
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { recordingAddress } from './main-paths.ts';
import { type Bench, openBench } from './support.ts';
import { focus, serious } from './views.ts';

/** Long enough for a document on a loaded machine; what is waited for is always to be seen. */
const patience = 60_000;

let bench: Bench;
beforeAll(async () => {
  bench = await openBench(['A/A1']);
}, patience);
afterAll(() => bench?.close());
afterEach(async () => {
  await bench.closePages();
  expect(bench.troubles()).toEqual([]);
});

const text = (bytes: Uint8Array) => Buffer.from(bytes).toString('utf8');

/** One row a trial under the names of the columns. */
function expectTrials(csv: string): void {
  const [names, ...rows] = csv.trim().split(/\r?\n/);
  expect(names?.split(',')).toContain('group');
  expect(rows.length).toBeGreaterThan(2);
  for (const row of rows) expect(row).toContain('A1');
}

const places = [
  {
    name: 'recording',
    path: recordingAddress,
    button: 'PDF of Trial report',
    file: 'trial-A-A1-brass-12_120-1.pdf',
    check: (bytes: Uint8Array) => expect(text(bytes.subarray(0, 5))).toBe('%PDF-'),
  },
  {
    name: 'plan',
    path: '/plan',
    button: 'PDF of Bench sheet',
    file: 'bench-sheet.pdf',
    check: (bytes: Uint8Array) => expect(text(bytes.subarray(0, 5))).toBe('%PDF-'),
  },
  {
    name: 'compare',
    path: '/compare',
    button: 'CSV of Results',
    file: /^results-.*Thornwick.*\.csv$/i,
    check: (bytes: Uint8Array) => expectTrials(text(bytes)),
  },
  {
    name: 'experiment',
    path: '/',
    button: 'all, as a data package of Results',
    file: /^results-.*Thornwick.*\.zip$/i,
    check: (bytes: Uint8Array) => {
      const files = unzipSync(bytes);
      expect(Object.keys(files)).toEqual(
        expect.arrayContaining(['datapackage.json', 'results.csv', 'results.xlsx']),
      );
      expectTrials(text(files['results.csv'] ?? new Uint8Array()));
    },
  },
];

/** Most steps of Tab from the top of a page to its end. */
const mostSteps = 150;

/** Goes to a button by Tab alone. */
async function tabTo(page: Page, button: string): Promise<void> {
  for (let i = 0; i < mostSteps; i++) {
    await page.keyboard.press('Tab');
    const { words, seen } = await focus(page);
    if (words !== button) continue;
    expect(seen, 'the focus can be seen').toBe(true);
    return;
  }
  throw new Error(`“${button}” is not reached by ${mostSteps} steps of Tab.`);
}

it.each(places)(
  'are made on $name by keyboard, saved under a name, and nothing is serious for axe',
  async ({ path, button, file, check }) => {
    const page = await bench.visit(path);
    page.setDefaultTimeout(patience);
    const section = page.getByRole('region', { name: 'Documents and data' });
    await section.getByRole('button', { name: button }).waitFor();
    await tabTo(page, button);
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    const name = download.suggestedFilename();
    expect(name).toMatch(file);
    check(await readFile(resolve(await download.path())));
    await section.getByRole('status').getByText(`Saved as ${name}`).waitFor();
    expect(await serious(page, null, '.downloads')).toEqual([]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect(await serious(page, ['color-contrast'], '.downloads')).toEqual([]);
    for (const one of await section.getByRole('button').all()) {
      // WCAG 2.2, 2.5.8: 24 px.
      const box = await one.boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(24);
    }
  },
  4 * patience,
);

it('stay away from a class: they name groups', async () => {
  const page = await bench.visit('/compare?view=projector');
  await page.locator('.figure-paper svg').first().waitFor();
  expect(await page.getByRole('region', { name: 'Documents and data' }).count()).toBe(0);
});
