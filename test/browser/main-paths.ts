/** What a person does at each place, from the first look to what is kept. */
import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import type { Bench } from './support.ts';

/** A recording of the demo as the address and as the folder name it. */
export const recordingFile = 'recordings/A/A1/brass-12_120-1.txt';
export const recordingAddress = `/recordings/${recordingFile}`;

/** Waits until something holds, as long as a loaded machine may need. */
function eventually<T>(what: () => Promise<T>) {
  return expect.poll(what, { timeout: 20_000 });
}

/** The time constant in the headline, once it follows the marks. */
async function headline(page: Page): Promise<string> {
  const settled = page.locator('.result:not(.result-following) .result-number');
  return (await settled.innerText()).trim();
}

export async function gridToRecording({ visit }: Bench): Promise<void> {
  const page = await visit('/');
  await page.getByRole('heading', { level: 1, name: /Thornwick/ }).waitFor();
  await page.getByRole('link', { name: /A1 brass-12 at 120, repeat 1: .*±/ }).click();
  await page.getByRole('heading', { level: 1, name: /A1 brass-12 at 120/ }).waitFor();
  expect(new URL(page.url()).pathname).toBe(recordingAddress);
  await page.goBack();
  await page.getByRole('heading', { name: 'Conditions and groups' }).waitFor();
}

export async function unreadableRecording({ visit, troubles }: Bench, file: string): Promise<void> {
  const page = await visit('/');
  await page.getByRole('link', { name: /B1 brass-12 at 120, repeat 1: unreadable/ }).click();
  const trouble = page.getByRole('alert');
  // RFC 9457: title, detail and, of our own, what to do. The page may ask a second time while the list is renewed.
  await trouble.locator('p').nth(2).waitFor();
  await page.getByRole('link', { name: 'add recordings' }).first().waitFor();
  expect(new URL(page.url()).pathname).toBe(`/recordings/${file}`);
  // The browser itself writes the answer 422 to its console; nothing else may stand there.
  expect(troubles().filter((one) => !/status of 422/.test(one))).toEqual([]);
}

export async function moveByKeyboard({ visit, folder }: Bench): Promise<void> {
  const before = await readFile(join(folder, recordingFile));
  const page = await visit(recordingAddress);
  const mark = page.getByRole('slider', { name: 'cooling from' });
  await mark.waitFor();
  const found = await headline(page);
  const at = Number(await mark.getAttribute('aria-valuenow'));
  await mark.focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowRight');
  await page.getByText('Marks moved, not yet kept').waitFor();
  await eventually(() => headline(page)).not.toBe(found);
  expect(Number(await mark.getAttribute('aria-valuenow'))).toBeGreaterThan(at);
  const moved = await headline(page);

  await page.getByRole('button', { name: 'keep this' }).click();
  await page.getByLabel('Why').fill('the nozzle still touched the sphere');
  await page.getByLabel('Who decides').fill('R. Hale');
  await page.getByRole('button', { name: 'keep', exact: true }).click();
  await page.getByText('By moved marks: the nozzle still touched the sphere').waitFor();
  await page.reload();
  await page.getByText('By moved marks: the nozzle still touched the sphere').waitFor();
  expect(await headline(page)).toBe(moved);
  const decisions = page.locator('.decisions');
  expect(await decisions.innerText()).toMatch(/R\. Hale, \d{1,2} \w+ \d{4}/);

  await decisions.getByRole('button', { name: 'take back' }).click();
  await page.locator('form').getByRole('button', { name: 'take back' }).click();
  await page.getByText('It no longer counts').waitFor();
  await eventually(() => headline(page)).toBe(found);
  expect(await readFile(join(folder, recordingFile))).toEqual(before);
}

export async function moveByMouse({ visit }: Bench): Promise<void> {
  const page = await visit(recordingAddress);
  const mark = page.getByRole('slider', { name: 'cooling to' });
  await mark.waitFor();
  const found = await headline(page);
  const at = Number(await mark.getAttribute('aria-valuenow'));
  await mark.scrollIntoViewIfNeeded();
  const box = await mark.boundingBox();
  if (box === null) throw new Error('The mark is not to be seen.');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 40, y, { steps: 4 });
  await page.mouse.move(x - 160, y, { steps: 4 });
  await page.mouse.up();
  await eventually(() => headline(page)).not.toBe(found);
  expect(Number(await mark.getAttribute('aria-valuenow'))).toBeLessThan(at);
  await page.getByRole('button', { name: 'back to what counts now' }).click();
  await eventually(() => headline(page)).toBe(found);
}

export async function changeThePlan({ visit, folder }: Bench): Promise<void> {
  const page = await visit('/plan');
  const row = page.locator('.plan-expected tr', { hasText: /brass-20.*120/ });
  await row.waitFor();
  const asked: string[] = [];
  page.on('request', (request) => {
    const { pathname } = new URL(request.url());
    if (pathname.startsWith('/api/')) asked.push(pathname);
  });
  const diameter = page.getByRole('group', { name: 'brass-20' }).getByLabel('diameter', { exact: true });
  await diameter.fill('24.00 mm +- 0.02 mm');
  await row.locator('.plan-new').first().waitFor();
  const numbers = (text: string) => Number(/\d+(?:\.\d+)?/.exec(text)?.[0]);
  const now = await row.locator('.plan-new .strong').allInnerTexts();
  const was = await row.locator('.plan-was').allInnerTexts();
  // tau goes with rho c V/(A h): a larger sphere of the same metal in the same jet is slower.
  expect(now.length).toBe(was.length);
  expect(numbers(now[0] ?? '')).toBeGreaterThan(numbers((was[0] ?? '').replace('was', '')));
  expect(asked).toEqual([]);

  await page.getByRole('button', { name: 'keep in experiment.yaml' }).click();
  const difference = page.getByRole('region', { name: 'lines that change in experiment.yaml' });
  await difference.getByText('diameter: 24.00 mm +- 0.02 mm').waitFor();
  expect(await readFile(join(folder, 'experiment.yaml'), 'utf8')).not.toContain('24.00 mm');
  await page.getByRole('button', { name: 'write these lines' }).click();
  await page.getByRole('region', { name: 'changes that are not kept yet' }).waitFor({ state: 'detached' });
  const original = await readFile(resolve('demo/thornwick/experiment.yaml'), 'utf8');
  expect(await readFile(join(folder, 'experiment.yaml'), 'utf8')).toBe(
    original.replace(
      '{ diameter: 20.00 mm +- 0.02 mm, material: brass,',
      '{ diameter: 24.00 mm +- 0.02 mm, material: brass,',
    ),
  );
}

/** Changes a diameter on an open plan, and looks at the difference. */
async function changeDiameter(page: Page, body: string, diameter: string): Promise<void> {
  const field = page.getByRole('group', { name: body }).getByLabel('diameter', { exact: true });
  await field.fill(diameter);
  await page.getByRole('button', { name: 'keep in experiment.yaml' }).click();
  await page.getByRole('button', { name: 'write these lines' }).waitFor();
}

export async function plansAtOnce({ visit, folder, troubles }: Bench): Promise<void> {
  const file = () => readFile(join(folder, 'experiment.yaml'), 'utf8');
  const [one, other] = [await visit('/plan'), await visit('/plan')];
  const write = (page: Page) => page.getByRole('button', { name: 'write these lines' }).click();
  const written = (page: Page) =>
    page.getByRole('region', { name: 'changes that are not kept yet' }).waitFor({ state: 'detached' });
  await changeDiameter(one, 'brass-12', '12.40 mm +- 0.02 mm');
  await changeDiameter(other, 'aluminium-12', '12.60 mm +- 0.02 mm');
  await write(one);
  await written(one);
  await write(other);
  await other
    .getByRole('alert')
    .getByText(/changed meanwhile/)
    .waitFor();
  expect(await file()).not.toContain('12.60 mm');
  // What was typed is still there, and goes on top of what the other page wrote.
  await other.getByRole('button', { name: 'read the file again' }).click();
  await other.getByRole('alert').waitFor({ state: 'detached' });
  await other.getByRole('button', { name: 'keep in experiment.yaml' }).click();
  await write(other);
  await written(other);
  expect(await file()).toContain('12.40 mm +- 0.02 mm');
  expect(await file()).toContain('12.60 mm +- 0.02 mm');
  expect(troubles().filter((trouble) => !/status of 409/.test(trouble))).toEqual([]);
}

export async function chooseInComparison({ visit }: Bench): Promise<void> {
  const page = await visit('/compare');
  await page.getByText(/all groups: choose/).click();
  await page.getByRole('checkbox', { name: 'brass-20 at 120', exact: true }).uncheck();
  await page.getByRole('checkbox', { name: 'B1', exact: true }).uncheck();
  const standing = page.locator('.compare-standing');
  await eventually(() => standing.innerText()).toMatch(/from the recordings of A1, A2/);
  const search = new URL(page.url()).searchParams;
  expect(search.getAll('without')).toHaveLength(1);
  expect(search.getAll('group')).toEqual(['A1', 'A2']);
  const words = await standing.innerText();
  await page.reload();
  await eventually(() => standing.innerText()).toBe(words);
  expect(await page.locator('main table').first().innerText()).not.toMatch(/brass-20 at 120/);
}

export async function workThrough({ visit }: Bench): Promise<void> {
  const page = await visit(recordingAddress);
  const value = /^\d+(?:\.\d+)?/.exec(await headline(page))?.[0] ?? '';
  await page.getByRole('link', { name: 'Work through it, step by step' }).click();
  await page.locator('math').first().waitFor();
  const formulas = await page.locator('math').allTextContents();
  expect(formulas.length).toBeGreaterThan(8);
  expect(formulas.filter((text) => /\d\.\d/.test(text)).length).toBeGreaterThan(5);
  // One of the steps must arrive at the number that the recording shows.
  expect(value).toMatch(/^\d+\.\d+$/);
  expect((await page.locator('.step-result').allInnerTexts()).join('\n')).toContain(value);
  await page.getByRole('link', { name: 'back to the recording' }).click();
  await page.getByRole('slider').first().waitFor();
}

export async function addRecordings({ visit, folder }: Bench): Promise<void> {
  const page = await visit('/add');
  const files = page.locator('input[type=file]');
  await files.setInputFiles({
    name: 'notes.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from('what we did on Tuesday\nnothing of it is a number\n'),
  });
  const trouble = page.getByRole('alert').filter({ hasText: 'cannot be read yet' });
  await trouble.waitFor();
  expect(await trouble.locator('p').count()).toBe(3);
  await page.getByRole('button', { name: 'leave it out' }).click();
  await trouble.waitFor({ state: 'detached' });

  const good = resolve('demo/thornwick/recordings/B/B2/brass-12_60-1.txt');
  await files.setInputFiles(good);
  await page.getByText(/readings over/).waitFor();
  for (const [label, choice] of [
    ['group', 'B2'],
    ['body', 'brass-12'],
    ['flow', '60'],
  ] as const) {
    await page.getByLabel(label, { exact: true }).selectOption(choice);
  }
  await page.getByText('recordings/B/B2/brass-12_60-1.txt').waitFor();
  await page.getByRole('button', { name: 'take it' }).click();
  await page.getByText('Taken as').waitFor();
  expect(await readFile(join(folder, 'recordings/B/B2/brass-12_60-1.txt'))).toEqual(await readFile(good));
  await page.getByRole('link', { name: 'recordings/B/B2/brass-12_60-1.txt' }).click();
  await page.getByText('Time constant').first().waitFor();
}
