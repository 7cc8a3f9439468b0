import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { type Bench, openBench } from './support.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench(['A/A1', 'A/A2', 'B/B1']);
});
afterAll(() => bench?.close());
afterEach(async () => {
  await bench.closePages();
  expect(bench.troubles()).toEqual([]);
});

const recording = '/recordings/recordings/A/A1/brass-12_120-1.txt';

it('leads from the grid to a recording', async () => {
  const page = await bench.visit('/');
  await page.getByRole('heading', { level: 1, name: /Thornwick/ }).waitFor();
  await page.getByRole('link', { name: /A1 brass-12 at 120, repeat 1: .*±/ }).click();
  await page.getByRole('heading', { level: 1, name: /A1 brass-12 at 120/ }).waitFor();
  expect(new URL(page.url()).pathname).toBe(recording);
  await page.goBack();
  await page.getByRole('heading', { name: 'Conditions and groups' }).waitFor();
});
