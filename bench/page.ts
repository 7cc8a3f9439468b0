/**
 * Times the page in a real Chromium: first visits to the demo with nothing kept of it, that is while its list is worked
 * on, and again when all is kept; then a recording of 6 million samples: a preview from the server that has it in
 * memory, and the time from a key that moves a mark to the number that follows it. From the root of the project, after
 * `npm run demo`:
 *
 *   npm run build && node build/bench-page.js
 *
 * A folder as argument holds another build than dist. Targets: paint 1000 ms, content 2000 ms, a mark 100 ms.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, linkSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { launchBrowser } from '../test/browser/support-browser.ts';
import { largeTrial } from './large-trial.ts';

const dist = resolve(process.argv[2] ?? 'dist');
const port = 4420;
const address = `http://localhost:${port}`;
const visits = 5;
const moves = 40;

const folder = mkdtempSync(join(tmpdir(), 'emberline-page-'));

async function serve(name: string): Promise<ChildProcess> {
  const args = [join(dist, 'main.js'), 'serve', join(folder, name), '--port', String(port)];
  const server = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  await once(server.stdout, 'data');
  return server;
}

async function end(server: ChildProcess): Promise<void> {
  server.kill('SIGTERM');
  await once(server, 'exit');
}

function say(what: string, times: readonly number[]): void {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (part: number) => sorted[Math.floor(part * (sorted.length - 1))]?.toFixed(0) ?? '-';
  console.log(`${what.padEnd(44)} ${at(0.5)} ms (${at(0)} to ${at(1)}, n = ${sorted.length})`);
}

async function progress(): Promise<{ done: number; total: number }> {
  const list = await (await fetch(`${address}/api/recordings`)).json();
  return list.progress;
}

/** A window that marks the moment at which something is there. */
async function openWindow(browser: Browser, wanted: string): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  await page.addInitScript((selector) => {
    new MutationObserver((_, observer) => {
      if (document.querySelector(selector) === null) return;
      performance.mark('content');
      observer.disconnect();
    }).observe(document, { childList: true, subtree: true });
  }, wanted);
  return page;
}

async function firstVisits(browser: Browser, when: string): Promise<void> {
  const paints: number[] = [];
  const contents: number[] = [];
  for (let i = 0; i < visits; i++) {
    const page = await openWindow(browser, '.entry');
    await page.goto(`${address}/`);
    await page.locator('.entry').first().waitFor();
    const times = await page.evaluate(() => ({
      paint: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
      content: performance.getEntriesByName('content')[0]?.startTime ?? Number.NaN,
    }));
    paints.push(times.paint);
    contents.push(times.content);
    await page.context().close();
  }
  say(`first paint, ${when}`, paints);
  say(`first rows of the grid, ${when}`, contents);
}

async function demo(browser: Browser): Promise<void> {
  cpSync(join('demo', 'thornwick', 'experiment.yaml'), join(folder, 'demo', 'experiment.yaml'));
  cpSync(join('demo', 'thornwick', 'recordings'), join(folder, 'demo', 'recordings'), { recursive: true });
  const start = performance.now();
  const server = await serve('demo');
  say('server up', [performance.now() - start]);
  await firstVisits(browser, 'while it is worked on');
  for (let now = await progress(); now.done < now.total; now = await progress()) {
    await new Promise((resolve) => setTimeout(resolve, 250));
  }
  say('list complete', [performance.now() - start]);
  await firstVisits(browser, 'all kept');
  await end(server);
}

async function previews(path: string): Promise<void> {
  const detail = await (await fetch(`${address}/api/recordings/${path}/analysis`)).json();
  const { baseline, cooling, heating } = detail.used;
  const times: number[] = [];
  for (let i = 0; i < moves; i++) {
    const marks = { baseline, cooling: { ...cooling, from: cooling.from + 0.01 * (i + 1) }, heating };
    const start = performance.now();
    const answer = await fetch(`${address}/api/recordings/${path}/preview`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ marks }),
    });
    await answer.text();
    times.push(performance.now() - start);
  }
  say('preview, recording in memory', times);
}

async function marks(browser: Browser, path: string): Promise<void> {
  const page = await openWindow(browser, '.result-number');
  await page.goto(`${address}/recordings/${path}`);
  const mark = page.getByRole('slider', { name: 'cooling from' });
  await mark.waitFor();
  await mark.focus();
  await page.evaluate(() => {
    let start = 0;
    let following = false;
    document.addEventListener(
      'keydown',
      () => {
        start = performance.now();
        following = false;
      },
      true,
    );
    new MutationObserver(() => {
      const now = document.querySelector('.result-following') !== null;
      if (following && !now) performance.measure('followed', { start, end: performance.now() });
      following = now;
    }).observe(document.body, { attributes: true, childList: true, subtree: true });
  });
  for (let i = 0; i < moves; i++) {
    await page.keyboard.press('ArrowRight');
    await page.waitForFunction((n) => performance.getEntriesByName('followed').length > n, i);
  }
  const times = await page.evaluate(() => performance.getEntriesByName('followed').map((e) => e.duration));
  say('mark moved to number changed', times);
  await page.context().close();
}

async function large(browser: Browser): Promise<void> {
  const group = join('demo', 'thornwick', 'recordings', 'A', 'A1');
  const name = readdirSync(group)[0] ?? '';
  const path = `recordings/A/A1/${name}`;
  mkdirSync(join(folder, 'large', 'recordings', 'A', 'A1'), { recursive: true });
  cpSync(join('demo', 'thornwick', 'experiment.yaml'), join(folder, 'large', 'experiment.yaml'));
  linkSync(largeTrial(6), join(folder, 'large', path));
  const server = await serve('large');
  const page = await openWindow(browser, '.result-number');
  const start = performance.now();
  await page.goto(`${address}/recordings/${path}`);
  await page.locator('.result-number').waitFor({ timeout: 120_000 });
  say('6 million samples, first result', [performance.now() - start]);
  await page.context().close();
  await previews(path);
  await marks(browser, path);
  await end(server);
}

const browser = await launchBrowser();
try {
  await demo(browser);
  await large(browser);
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
