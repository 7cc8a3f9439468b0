import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Bench, openBench } from './support.ts';
import { accessible, openPlace } from './views.ts';

const place = { name: 'submissions', path: '/submissions', whole: '.submissions h2' };

let bench: Bench;
beforeAll(async () => {
  bench = await openBench(['A/A1']);
});
afterAll(() => bench?.close());

it('takes values by keyboard, says what to look at again and why, and shows the feedback', async () => {
  const page = await openPlace(bench, place);
  await page.getByRole('button', { name: 'enter values of group A1' }).click();
  await page.getByRole('combobox', { name: 'Recording' }).selectOption({ label: 'brass-12_120-1.txt' });
  await page.getByLabel('Time constant at 36.8 % / s').fill('41.2');
  await page.getByLabel('Time constant through the origin / s').fill('95.1');
  await page.getByLabel('Time constant with an intercept / s').fill('94.9');
  await page.keyboard.press('Enter');
  await page.getByText('3 values: 1 within the tolerance, 1 right given').waitFor();
  const row = page.getByRole('row', { name: /^Time constant through the origin/ });
  await row.getByText('look again').waitFor();
  await page.getByText('the logarithm to base ten was taken').first().waitFor();
  await page.getByText('The text of the feedback').click();
  await page.getByText(/\*\*Look again\*\*/).waitFor();
  expect(await readdir(join(bench.folder, 'submissions', 'A1'))).toHaveLength(1);

  await page.getByRole('button', { name: 'projector', exact: true }).click();
  await page.getByText('nothing of what groups handed in is shown').waitFor();
  expect(await page.locator('main').getByText('A1').count()).toBe(0);
  await page.getByRole('button', { name: 'leave projector view' }).click();
  await page.close();
  expect(bench.troubles()).toEqual([]);
});

it('can be read by everybody and on a phone', async () => {
  await accessible(bench, place);
});
