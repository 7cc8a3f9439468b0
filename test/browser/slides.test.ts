import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Block, slidesHtml } from '../../src/report/index.ts';
import { launchBrowser } from './support-browser.ts';

const long = Array.from(
  { length: 11 },
  (_, i) => `point ${i + 1}: ${'words that fill more than a line '.repeat(3)}`,
);
const drawing = '<svg viewBox="0 0 960 600" width="960" height="600"><rect width="960" height="600"/></svg>';
const blocks: Block[] = [
  ...['One', 'Two', 'Three'].flatMap((text): Block[] => [
    { kind: 'heading', level: 1, text },
    { kind: 'paragraph', text: `on ${text}` },
    { kind: 'notes', text: `said about ${text}` },
  ]),
  { kind: 'list', ordered: false, items: long },
  { kind: 'heading', level: 2, text: 'Four' },
  { kind: 'figure', figure: { svg: drawing, alt: 'a drawing', caption: 'seen', width: 1, table: null } },
  { kind: 'list', ordered: false, items: long.slice(0, 3) },
];

describe('slides that are opened from a disk', () => {
  let folder = '';
  let address = '';
  let browser: Browser;
  let page: Page;
  const found: string[] = [];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'emberline-slides-'));
    const file = join(folder, 'slides.html');
    await writeFile(
      file,
      await slidesHtml({ title: 'Start', subtitle: 'Course', foot: 'foot', density: 'usual', blocks }),
    );
    address = pathToFileURL(file).href;
    browser = await launchBrowser();
    page = await browser.newPage({ viewport: { width: 1280, height: 720 } });
    page.on('console', (message) => found.push(message.text()));
    page.on('pageerror', (error) => found.push(error.message));
    page.on('request', (request) => {
      if (!request.url().startsWith(address) && !request.url().startsWith('data:')) found.push(request.url());
    });
    await page.goto(address);
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await rm(folder, { recursive: true, force: true });
  });

  const shown = () => page.locator('section.slide:visible').getByRole('heading').first().textContent();
  const press = (key: string) => page.keyboard.press(key);

  test('are turned by keys, and have addresses', async () => {
    expect(await shown()).toBe('Start');
    await press('ArrowRight');
    expect(await shown()).toBe('One');
    await press(' ');
    expect(await shown()).toBe('Two');
    expect(page.url()).toBe(`${address}#3`);
    await press('Shift+ ');
    expect(await shown()).toBe('One');
    await press('End');
    expect(await shown()).toBe('Four');
    await press('ArrowRight');
    expect(await shown()).toBe('Four');
    await press('Home');
    await press('ArrowLeft');
    expect(await shown()).toBe('Start');
    await page.goto(`${address}#4`);
    expect(await shown()).toBe('Three');
    await page.goBack();
    expect(await shown()).toBe('Start');
  });

  test('show notes and a list of all slides when asked, and take another key back', async () => {
    await page.goto(`${address}#2`);
    expect(await page.getByText('said about One').isVisible()).toBe(false);
    await press('n');
    expect(await page.getByText('said about One').isVisible()).toBe(true);
    await press('n');
    await press('l');
    expect(await page.getByRole('navigation').isVisible()).toBe(true);
    await page.getByRole('link', { name: 'Three' }).click();
    expect(await shown()).toBe('Three');
    expect(await page.getByRole('navigation').isVisible()).toBe(false);
  });

  test('are turned by touch, with room for a finger (WCAG 2.2, 2.5.8: 24 px)', async () => {
    await page.goto(`${address}#1`);
    for (const name of ['Back', 'Next', 'Notes', 'Desk window', 'List']) {
      const box = await page.getByRole('button', { name, exact: true }).boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(24);
    }
    await page.getByRole('button', { name: 'Next' }).click();
    expect(await shown()).toBe('One');
  });

  test('fit the screen of a projector without scrolling', async () => {
    for (const number of [4, 5]) {
      await page.goto(`${address}#${number}`);
      const { height, width, letters } = await page.evaluate(() => {
        const { scrollHeight, scrollWidth } = document.documentElement;
        const slide = document.querySelector('section.current');
        const size = slide === null ? 0 : Number.parseFloat(getComputedStyle(slide).fontSize);
        return { height: scrollHeight, width: scrollWidth, letters: size };
      });
      expect(height).toBeLessThanOrEqual(720);
      expect(width).toBeLessThanOrEqual(1280);
      expect(letters).toBeGreaterThan(14);
    }
  });

  test('have a window for the speaker: notes, what comes next, and turning from either side', async () => {
    await page.goto(`${address}#2`);
    const [speaker] = await Promise.all([page.waitForEvent('popup'), press('d')]);
    speaker.on('console', (message) => found.push(message.text()));
    speaker.on('pageerror', (error) => found.push(error.message));
    const desk = speaker.getByRole('complementary', { name: 'For the speaker' });
    await desk.getByText('said about One').waitFor();
    expect(await desk.getByText('Next: Two').isVisible()).toBe(true);
    expect(await desk.textContent()).toMatch(/\d+:\d\d/);
    // The class sees no notes.
    expect(await page.getByText('said about One').isVisible()).toBe(false);
    await speaker.keyboard.press('ArrowRight');
    await expect.poll(shown).toBe('Two');
    await desk.getByText('said about Two').waitFor();
    await press('ArrowRight');
    await desk.getByText('said about Three').waitFor();
    // A window that was reloaded is told again by the other one.
    await page.reload();
    await speaker.keyboard.press('ArrowLeft');
    await expect.poll(shown).toBe('Two');
    expect(new URL(speaker.url()).hash).toBe('#speaker-3');
    await speaker.close();
    await press('ArrowLeft');
    expect(await shown()).toBe('One');
  });

  test('show the notes in place where a second window is forbidden', async () => {
    await page.goto(`${address}#3`);
    await page.evaluate(() => {
      window.open = () => null;
    });
    await press('d');
    expect(await page.getByText('said about Two').isVisible()).toBe(true);
    await page.reload();
  });

  test('are all on paper, without notes', async () => {
    await page.emulateMedia({ media: 'print' });
    for (const name of ['on One', 'on Two', 'on Three'])
      expect(await page.getByText(name).isVisible()).toBe(true);
    expect(await page.getByText('said about One').isVisible()).toBe(false);
    expect(await page.getByRole('button', { name: 'Next' }).isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
  });

  test('ask for nothing and complain of nothing', () => {
    expect(found).toEqual([]);
  });
});
