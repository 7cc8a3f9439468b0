/** Documents of one HTML file, opened from a disk as a person does. */
import { cp, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type DocumentOrder, makeDocument } from '../../src/report/index.ts';
import { launchBrowser } from './support-browser.ts';

const patience = 60_000;
const recording = 'recordings/A/A1/brass-12_120-1.txt';
const setting = { format: 'html', paper: null, figures: null } as const;

let folder = '';
let browser: Browser;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'emberline-documents-'));
  for (const path of ['experiment.yaml', 'recordings/A/A1']) {
    await cp(join('demo/thornwick', path), join(folder, path), { recursive: true });
  }
  browser = await launchBrowser();
}, patience);
afterAll(async () => {
  await browser?.close();
  await rm(folder, { recursive: true, force: true });
});

/**
 * Opens a document; `found` has what it asks for beyond itself, and what the browser says about it, as where its own
 * policy is broken.
 */
async function opened(order: DocumentOrder, viewport: { width: number; height: number }) {
  const { name, title, bytes } = await makeDocument(folder, order);
  const file = join(folder, name);
  await writeFile(file, bytes);
  const address = pathToFileURL(file).href;
  const page = await browser.newPage({ viewport });
  page.setDefaultTimeout(patience);
  const found: string[] = [];
  page.on('console', (message) => found.push(message.text()));
  page.on('pageerror', (error) => found.push(error.message));
  page.on('request', (request) => {
    const [url] = request.url().split('#');
    if (url !== address && !request.url().startsWith('data:')) found.push(request.url());
  });
  await page.goto(address);
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  return { page, address, title, found };
}

/** What reaches over the right edge, but for figures, tables and formulas that are scrolled by themselves, also by keys. */
function overTheEdge(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { clientWidth, scrollWidth } = document.documentElement;
    const over = Array.from(document.querySelectorAll('body *'))
      .filter((one) => one.getBoundingClientRect().right > clientWidth + 1)
      .filter((one) => one.closest('.scroll[tabindex="0"]') === null)
      .map((one) => `${one.tagName} ${one.className} ${(one.textContent ?? '').slice(0, 40)}`);
    return scrollWidth > clientWidth ? [`the page is ${scrollWidth} px wide`, ...over] : over;
  });
}

describe('on a screen of 390 px', () => {
  test.each([
    ['a trial', { kind: 'trial', path: recording, ...setting }],
    ['a worked analysis', { kind: 'worked', path: recording, ...setting }],
    ['a group', { kind: 'group', group: 'A1', pages: true, ...setting }],
    ['a bench sheet', { kind: 'bench-sheet', ...setting }],
    ['a briefing', { kind: 'briefing', example: recording, ...setting }],
  ] satisfies [string, DocumentOrder][])(
    '%s asks for nothing, breaks no policy, and does not scroll sideways',
    async (_, order) => {
      const { page, title, found } = await opened(order, { width: 390, height: 844 });
      expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(title);
      // Its letters are in it: where the policy forbade them, others would be drawn.
      const drawn = await page.evaluate(() => document.fonts.check('16px "Atkinson Hyperlegible Next"'));
      expect(drawn).toBe(true);
      for (const one of await page.locator('summary').all()) await one.click();
      expect(await overTheEdge(page)).toEqual([]);
      expect(found).toEqual([]);
      await page.close();
    },
    2 * patience,
  );

  test(
    'slides neither, each of them',
    async () => {
      const order: DocumentOrder = { kind: 'briefing', example: recording, ...setting, format: 'slides' };
      const { page, found } = await opened(order, { width: 390, height: 844 });
      const slides = await page.locator('section.slide').count();
      expect(slides).toBeGreaterThan(10);
      for (let i = 1; i <= slides; i++) {
        expect(await overTheEdge(page), `slide ${i}`).toEqual([]);
        await page.keyboard.press('ArrowRight');
      }
      expect(found).toEqual([]);
      await page.close();
    },
    2 * patience,
  );
});

test(
  'slides fit a projector of 1280 × 720, each without scrolling and large enough to read',
  async () => {
    const order: DocumentOrder = { kind: 'briefing', example: recording, ...setting, format: 'slides' };
    const { page, address, found } = await opened(order, { width: 1280, height: 720 });
    const slides = await page.locator('section.slide').count();
    const over: string[] = [];
    for (let i = 1; i <= slides; i++) {
      await page.goto(`${address}#${i}`);
      const { height, hidden, letters, title } = await page.evaluate(() => {
        const { scrollHeight } = document.documentElement;
        const slide = document.querySelector('section.current');
        const size = slide === null ? 0 : Number.parseFloat(getComputedStyle(slide).fontSize);
        const bar = document.querySelector('.bar')?.getBoundingClientRect().top ?? 0;
        // What stands under the bar of the foot cannot be seen.
        const last = Array.from(slide?.children ?? []).map((one) => one.getBoundingClientRect().bottom);
        const words = slide?.querySelector('h1, h2')?.textContent ?? '';
        return { height: scrollHeight, hidden: Math.max(...last) > bar, letters: size, title: words };
      });
      if (height > 720) over.push(`${i}, ${title}: ${height} px high`);
      if (hidden) over.push(`${i}, ${title}: under the bar`);
      if (letters < 14) over.push(`${i}, ${title}: letters of ${letters} px`);
      over.push(...(await overTheEdge(page)).map((one) => `${i}, ${title}: ${one}`));
    }
    expect(over).toEqual([]);
    expect(found).toEqual([]);
    await page.close();
  },
  2 * patience,
);
