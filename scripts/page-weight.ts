/**
 * Weighs both pages, each by all that its entry can load, and times the first view of the workbench on the demo, against
 * what they promise: 350 kB of compressed code, 120 kB for a group at its bench; first paint within 1 s, first rows of
 * the grid within 2 s. Run with `npm run build && npm run demo && node build/page-weight.js`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { openWorkbench } from '../src/server/index.ts';
import { launchBrowser } from '../test/browser/support-browser.ts';

const runs = 5;
const assets = join('dist', 'web', 'assets');
const code = readdirSync(assets).filter((name) => /\.(?:js|css)$/.test(name));
const packedBy = (pack: (bytes: Buffer) => Buffer) =>
  new Map(code.map((name) => [name, pack(readFileSync(join(assets, name))).length]));
/** As the server sends it. */
const packed = packedBy((bytes) => brotliCompressSync(bytes));
const gzipped = packedBy((bytes) => gzipSync(bytes));

/** Everything that a page can load: what its HTML names, and what that names in turn, by the names of the build. */
function loadable(html: string): string[] {
  const found = new Set<string>();
  const waiting = [readFileSync(join('dist', 'web', html), 'utf8')];
  for (let text = waiting.pop(); text !== undefined; text = waiting.pop()) {
    for (const [name] of text.matchAll(/[\w-]+\.(?:js|css)\b/g)) {
      if (!packed.has(name) || found.has(name)) continue;
      found.add(name);
      if (name.endsWith('.js')) waiting.push(readFileSync(join(assets, name), 'utf8'));
    }
  }
  return [...found];
}

/** Of all that a page can load, as sent and by gzip. */
function weightOf(html: string): readonly string[] {
  const names = loadable(html);
  return [packed, gzipped].map((sizes) => kilobytes(sum(names.map((name) => sizes.get(name) ?? 0))));
}

const kilobytes = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`;
const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);
const middle = (list: readonly number[]) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0;

const workbench = await openWorkbench({
  folder: join('demo', 'thornwick'),
  pageFolder: join('dist', 'web'),
  log: (text) => console.error(text),
});
const listening = await workbench.listen(0);
const browser = await launchBrowser();
const paints: number[] = [];
const contents: number[] = [];
const loaded = new Set<string>();
try {
  for (let i = 0; i < runs; i++) {
    // A new context has nothing kept: each run is a first visit.
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    const page = await context.newPage();
    page.on('request', (request) => {
      const name = new URL(request.url()).pathname.split('/').at(-1) ?? '';
      if (packed.has(name)) loaded.add(name);
    });
    await page.addInitScript(() => {
      new MutationObserver((_, observer) => {
        if (document.querySelector('.entry') === null) return;
        performance.mark('first-row');
        observer.disconnect();
      }).observe(document, { childList: true, subtree: true });
    });
    await page.goto(`http://localhost:${listening.port}/`);
    await page.locator('.entry').first().waitFor();
    const times = await page.evaluate(() => ({
      paint: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
      row: performance.getEntriesByName('first-row')[0]?.startTime ?? Number.NaN,
    }));
    paints.push(times.paint);
    contents.push(times.row);
    await page.locator('.figure-paper svg').first().waitFor();
    await context.close();
  }
} finally {
  await browser.close();
  await listening.close();
  await workbench.close();
}

const atFirst = sum([...loaded].map((name) => packed.get(name) ?? 0));
const whole = weightOf('index.html');
const room = weightOf('room.html');
console.log(`workbench code          ${whole[0]} as sent, Brotli; ${whole[1]} by gzip (at most 350 kB)`);
console.log(`code of a group's page  ${room[0]} as sent, Brotli; ${room[1]} by gzip (at most 120 kB)`);
console.log(`loaded by experiment    ${kilobytes(atFirst)} in ${loaded.size} files`);
console.log(
  `first contentful paint  ${middle(paints).toFixed(0)} ms, median of ${runs} first visits (under 1000 ms)`,
);
console.log(
  `first row of the grid   ${middle(contents).toFixed(0)} ms, median of ${runs} first visits (under 2000 ms)`,
);
