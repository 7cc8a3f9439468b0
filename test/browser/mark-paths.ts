/** Marks on a recording: by keys without losing the focus, by fingers, and where there are several heatings. */
import { readFile, writeFile } from 'node:fs/promises';
import type { CDPSession, Page } from 'playwright-core';
import { expect } from 'vitest';
import { recordingAddress } from './main-paths.ts';
import type { Bench } from './support.ts';

const soon = { timeout: 20_000 };

/** Two trials in one file: all rows again, with times that go on from the last. */
export async function writeTwice(once: string, twice: string): Promise<void> {
  const lines = (await readFile(once, 'utf8')).trimEnd().split('\n');
  const first = lines.findIndex((line) => /^\d/.test(line));
  const rows = lines.slice(first).map((line) => line.split('\t'));
  const period = Number(rows[1]?.[0]) - Number(rows[0]?.[0]);
  const on = Number(rows.at(-1)?.[0]) + period;
  const again = rows.map(([time, ...rest]) => [(Number(time) + on).toFixed(2), ...rest].join('\t'));
  await writeFile(twice, `${[...lines, ...again].join('\n')}\n`);
}

/** The words of what has the focus; empty where it went back to the top of the page. */
function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    const one = document.activeElement;
    return one === document.body ? '' : (one?.getAttribute('aria-label') ?? one?.textContent ?? '').trim();
  });
}

function timeOf(page: Page, mark: string): Promise<number> {
  return page.getByRole('slider', { name: mark }).getAttribute('aria-valuenow').then(Number);
}

export async function keepsFocusAndMoves({ visit }: Bench): Promise<void> {
  const page = await visit(recordingAddress);
  const mark = page.getByRole('slider', { name: 'cooling from' });
  await mark.focus();
  await page.keyboard.press('Shift+ArrowRight');
  const moved = await timeOf(page, 'cooling from');
  await page.reload();
  await mark.waitFor();
  expect(await timeOf(page, 'cooling from')).toBe(moved);

  await page.getByRole('button', { name: 'keep this' }).press('Enter');
  await page.getByLabel('Why').press('Escape');
  await expect.poll(() => focused(page), soon).toBe('keep this');
  await page.getByRole('button', { name: 'back to what counts now' }).press('Enter');
  await expect.poll(() => focused(page), soon).toBe('The marks are back to what counts now.');
  // A word that can do no more keeps the focus too.
  const nearer = page.getByRole('button', { name: 'nearer' });
  await nearer.focus();
  await expect
    .poll(async () => {
      await page.keyboard.press('Enter');
      return nearer.getAttribute('aria-disabled');
    }, soon)
    .toBe('true');
  expect(await focused(page)).toBe('nearer');
}

type Touches = readonly (readonly [number, number])[];

async function touch(session: CDPSession, path: readonly Touches[]): Promise<void> {
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', touches: Touches) =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: touches.map(([x, y], id) => ({ x, y, id })),
    });
  for (const [i, touches] of path.entries()) await send(i === 0 ? 'touchStart' : 'touchMove', touches);
  await send('touchEnd', []);
}

export async function movesByFingers({ visit }: Bench): Promise<void> {
  const page = await visit(recordingAddress, {
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  const session = await page.context().newCDPSession(page);
  // Each towards where it has room, and none over another.
  for (const [mark, by] of [
    ['baseline from', 10],
    ['baseline to', 30],
    ['cooling from', 30],
    ['cooling to', -30],
  ] as const) {
    const before = await timeOf(page, mark);
    const word = page.getByRole('slider', { name: mark }).locator('.handle-word');
    await word.scrollIntoViewIfNeeded();
    const box = await word.boundingBox();
    if (box === null) throw new Error(`The mark ${mark} is not to be seen.`);
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const steps = [0, 0.25, 0.5, 0.75, 1];
    await touch(
      session,
      steps.map((share) => [[x + share * by, y]]),
    );
    await expect.poll(async () => Math.sign((await timeOf(page, mark)) - before), soon).toBe(Math.sign(by));
  }

  const surface = page.locator('.near-surface');
  await surface.scrollIntoViewIfNeeded();
  const box = await surface.boundingBox();
  if (box === null) throw new Error('The figure is not to be seen.');
  const [x, y] = [box.x + 0.65 * box.width, box.y + 0.9 * box.height];
  const apart = [15, 25, 35, 45, 60];
  await touch(
    session,
    apart.map((half) => [
      [x - half, y],
      [x + half, y],
    ]),
  );
  await expect.poll(() => page.locator('.near-words').innerText(), soon).not.toContain('the whole recording');
  // The fingers came nearer to the figure, not to the page.
  expect(await page.evaluate(() => window.visualViewport?.scale)).toBe(1);
}

export async function choosesTheHeating({ visit }: Bench, file: string): Promise<void> {
  const page = await visit(`/recordings/${file}`);
  const first = page.getByRole('radio', { name: /^1, from \d+ s/ });
  const second = page.getByRole('radio', { name: /^2, from \d+ s/ });
  await second.waitFor();
  expect((await first.isChecked()) !== (await second.isChecked())).toBe(true);
  await first.check();
  const from = () => timeOf(page, 'cooling from');
  await expect.poll(from, soon).toBeLessThan(175);
  await second.check();
  await expect.poll(from, soon).toBeGreaterThan(175);
}
