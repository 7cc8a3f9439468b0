import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { appendRigCheck } from '../../src/store/index.ts';
import { type Bench, openBench } from './support.ts';
import { accessible, openPlace } from './views.ts';

const place = { name: 'rig', path: '/rig', whole: '.rig table' };
const recording = '/recordings/recordings/A/A1/brass-12_120-1.txt';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench(['A/A1']);
}, 60_000);
afterAll(() => bench?.close());

it('takes a check by keyboard, says how it stands, and lets it be taken back', async () => {
  const page = await openPlace(bench, place);
  await page.getByText(/\d+ not checked yet/).waitFor();
  await page.getByLabel('What was checked').selectOption('gain');
  await page.getByText('It should be 200 ± 0.40.').waitFor();
  await page.getByLabel('Bench', { exact: true }).selectOption('bench-1');
  await page.getByLabel('What it showed').fill('190 mV');
  await page.getByLabel('Who checked it').fill('R. Hale');
  await page.keyboard.press('Enter');
  await page.getByRole('alert').getByText('unit').first().waitFor();
  await page.getByLabel('What it showed').fill('190');
  await page.keyboard.press('Enter');
  await page.getByRole('status').getByText('bench-1, gain: 190; it should be 200 ± 0.40.').waitFor();
  const row = page.getByRole('row', { name: /^gain/ });
  await row.getByText('190, outside').waitFor();
  const kept: unknown = JSON.parse(await readFile(join(bench.folder, 'rig', 'checks.json'), 'utf8'));
  expect(kept).toMatchObject({ checks: [{ kind: 'gain', bench: 'bench-1', value: 190, who: 'R. Hale' }] });

  await page.getByRole('button', { name: /^take back: bench-1, gain: 190/ }).click();
  await page.getByLabel('Why').fill('read from the wrong range');
  await page.keyboard.press('Enter');
  await page.getByText('Taken back by R. Hale: read from the wrong range').waitFor();
  await expect.poll(() => row.getByText('not yet').count()).toBe(4);
  await page.close();
  expect(bench.troubles().filter((one) => !/status of 422/.test(one))).toEqual([]);
});

it('changes by itself when somebody else checks, and later recordings say so', async () => {
  const page = await openPlace(bench, place);
  const zero = { kind: 'zero', subject: null, value: 9e-3, written: '9 mV', note: '' } as const;
  // The demo was recorded in October 2026.
  await appendRigCheck(bench.folder, {
    at: '2026-10-01T09:00:00.000Z',
    who: 'IK',
    bench: 'bench-1',
    ...zero,
  });
  await page.getByText('bench-1, zero with shorted input: 9 mV; it should be 1.3 mV ± 2.4 mV.').waitFor();
  await page.getByRole('button', { name: 'enter a new check' }).click();
  expect(await page.getByLabel('What it showed').evaluate((one) => one === document.activeElement)).toBe(
    true,
  );
  await page.goto(`${bench.address}${recording}`);
  // The figure has the remarks in its margin, in lines of their own; the list has them whole.
  await page.getByText(/remarks? as a list$/).click();
  await page
    .getByText('The rig when this was recorded: bench-1, zero with shorted input: 9 mV')
    .first()
    .waitFor();
  await page.close();
});

it('shows a class how the rigs stand, and nobody who checked them', async () => {
  await appendRigCheck(bench.folder, {
    at: '2026-10-01T09:00:00.000Z',
    who: 'R. Hale',
    bench: 'bench-2',
    kind: 'gain',
    subject: null,
    value: 190,
    written: '190',
    note: 'A3 was sent home',
  });
  const page = await openPlace(bench, place, '?view=projector');
  await page.getByText('bench-2, gain: 190').first().waitFor();
  expect(await page.locator('body').innerText()).not.toMatch(/Hale|A3|wrong range/);
  expect(await page.getByRole('textbox').count()).toBe(0);
  expect(await page.getByRole('button', { name: /take back|new check/ }).count()).toBe(0);
  await page.close();
});

it('can be read by everybody and on a phone', async () => {
  await accessible(bench, place);
});
