/** Takes pictures of the page on the demo, for the README and the docs. Run with `npm run pictures`. */
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { openWorkbench } from '../src/server/index.ts';
import { launchBrowser } from '../test/browser/support-browser.ts';

const recording = '/recordings/recordings/A/A1/brass-12_120-1.txt';
const figure = '.figure-paper svg';
const wide = { width: 1280, height: 1000 };
const narrow = { width: 390, height: 900 };

interface Picture {
  readonly name: string;
  readonly path: string;
  /** What is to be seen once the place is whole. */
  readonly whole: string;
}

const places: readonly Picture[] = [
  { name: 'experiment', path: '/', whole: figure },
  { name: 'plan', path: '/plan', whole: figure },
  { name: 'compare', path: '/compare', whole: figure },
  { name: 'add', path: '/add', whole: '.add-drop' },
  { name: 'recording', path: recording, whole: '[role=slider]' },
  { name: 'steps', path: `${recording}/steps`, whole: 'math' },
];

const workbench = await openWorkbench({
  folder: join('demo', 'thornwick'),
  pageFolder: join('dist', 'web'),
  log: (text) => console.error(text),
});
const listening = await workbench.listen(0);
const browser = await launchBrowser();
try {
  for (const place of places) {
    await take(browser, place, place.name, { viewport: wide, colorScheme: 'light' });
    await take(browser, place, `${place.name}-dark`, { viewport: wide, colorScheme: 'dark' });
    await take(browser, place, `${place.name}-narrow`, { viewport: narrow, colorScheme: 'light' });
  }
  const [experiment] = places;
  if (experiment !== undefined) {
    const forAClass = { ...experiment, path: '/?view=projector' };
    await take(browser, forAClass, 'experiment-projector', { viewport: wide, colorScheme: 'light' });
  }
} finally {
  await browser.close();
  await listening.close();
  await workbench.close();
}

async function take(
  from: Browser,
  { path, whole }: Picture,
  name: string,
  look: { viewport: { width: number; height: number }; colorScheme: 'light' | 'dark' },
): Promise<void> {
  const context = await from.newContext({ ...look, deviceScaleFactor: 1, reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(`http://localhost:${listening.port}${path}`);
  await page.locator(whole).first().waitFor({ timeout: 120_000 });
  await page.getByText(/recordings analyzed/).waitFor({ state: 'detached', timeout: 300_000 });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  // Files are added where the place is shown with one.
  if (path === '/add') {
    await page
      .locator('input[type=file]')
      .setInputFiles(join('demo', 'thornwick', 'recordings', 'B', 'B2', 'brass-12_60-1.txt'));
    await page.getByText(/readings over/).waitFor();
  }
  await page.screenshot({ path: join('docs', 'pictures', `${name}.png`) });
  await context.close();
}
