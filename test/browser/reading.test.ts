import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type Bench, openBench } from './support.ts';

const path = 'recordings/A/A1/brass-12_120-1.txt';
/** What a logger writes that knows nothing of time: the readings alone. */
let bare = '';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench(['A/A1'], async (folder) => {
    const lines = (await readFile(join(folder, path), 'utf8')).split(/\r?\n/);
    bare = lines.flatMap((line) => line.split('\t')[1] ?? []).join('\n');
    await writeFile(join(folder, path), bare);
  });
});
afterAll(() => bench?.close());

it('reads a recording as a person says, keeps that, and takes it back', async () => {
  const page = await bench.visit(`/recordings/${path}`);
  const trouble = page.getByRole('alert');
  await trouble.waitFor();
  // The words of the page, none of the command line.
  expect(await trouble.textContent()).not.toContain('--');
  expect(await trouble.textContent()).toContain('“rate in Hz”');
  await page.getByLabel('rate in Hz').fill('100');
  await page.getByRole('button', { name: 'read again' }).click();
  await page.getByText(/100.0 Hz, .* readings over/).waitFor();
  await page.getByRole('button', { name: 'read it so from now on' }).click();
  await page.getByLabel('Who decides').fill('R. Hale');
  await page.getByRole('button', { name: 'keep', exact: true }).click();
  await page.getByRole('slider', { name: 'cooling from' }).waitFor();
  await page.reload();
  const decisions = page.locator('.decisions');
  await decisions.getByText('how the file is read: sampled at 100 Hz').waitFor();
  expect(await readFile(join(bench.folder, path), 'utf8')).toBe(bare);

  await decisions.getByRole('button', { name: 'take back' }).click();
  await page.locator('form.decide').getByRole('button', { name: 'take back' }).click();
  await page.getByLabel('rate in Hz').waitFor();
  // What was decided is still to be seen.
  await page.getByText('taken back: how the file is read').waitFor();
  await page.close();
});

it('keeps with a file that is added how it is read, and takes its repeat from its name', async () => {
  const page = await bench.visit('/add');
  const file = (name: string, more: string) =>
    page.locator('input[type=file]').setInputFiles({
      name,
      mimeType: 'text/plain',
      buffer: Buffer.from(`${bare}${more}`),
    });
  await file('A1 brass-20 60 run7.txt', '\n');
  await page.getByText('This file cannot be read yet').waitFor();
  expect(await page.getByLabel('repeat', { exact: true }).inputValue()).toBe('7');
  await page.getByLabel('rate in Hz').fill('100');
  await page.getByRole('button', { name: 'read again' }).click();
  await page.getByText(/100.0 Hz, .* readings over/).waitFor();
  const take = page.getByRole('button', { name: 'take it' });
  await page.getByLabel('who says so').fill('');
  expect(await take.isDisabled()).toBe(true);
  await page.getByLabel('who says so').fill('R. Hale');
  await take.click();
  await page.getByRole('link', { name: 'recordings/A/A1/brass-20_60-7.txt' }).click();
  await page.getByRole('slider', { name: 'cooling from' }).waitFor();
  await page.locator('.decisions').getByText('how the file is read: sampled at 100 Hz').waitFor();
  await page.goBack();

  // Without a number in its name it is the next one of its condition and group.
  await file('A1 brass-20 120.txt', '\n\n');
  await page.getByText('This file cannot be read yet').waitFor();
  await expect.poll(() => page.getByLabel('repeat', { exact: true }).inputValue()).toBe('2');
  await page.close();
  expect(bench.troubles().filter((one) => !/status of 422/.test(one))).toEqual([]);
});
