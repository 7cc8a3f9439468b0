import { existsSync } from 'node:fs';
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { openWorkbench } from '../../src/server/index.ts';
import { launchBrowser } from './support-browser.ts';

/** The real server over a copy of a few groups of the demo, and a browser to look at it. */
export interface Bench {
  /** The copied folder. */
  readonly folder: string;
  /** http://localhost:<port>; https where it is open to others. */
  readonly address: string;
  readonly browser: Browser;
  /** Opens a place in a window of its own; whatever goes wrong on it is kept for `troubles`. */
  visit(path: string, options?: BrowserContextOptions): Promise<Page>;
  /** What went wrong on the pages since the last call: errors, and requests that leave this machine. */
  troubles(): string[];
  /** Closes the windows of one test. */
  closePages(): Promise<void>;
  close(): Promise<void>;
}

const demo = resolve('demo/thornwick');
const pageFolder = resolve('dist/web');

/** Long enough for a loaded machine; what is waited for is always to be seen. */
const patience = 20_000;

/**
 * @param groups of the demo, as A/A1
 * @param prepare what else is done to the copied folder before the server sees it
 * @param room whether people have to sign in, over TLS with a certificate that the server makes
 */
export async function openBench(
  groups: readonly string[],
  prepare: (folder: string) => Promise<void> = async () => undefined,
  room = false,
): Promise<Bench> {
  if (!existsSync(join(pageFolder, 'index.html'))) {
    throw new Error('The page has not been built: run npm run build, and the tests again.');
  }
  const folder = await mkdtemp(join(tmpdir(), 'emberline-page-'));
  await cp(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  for (const group of groups) {
    await cp(join(demo, 'recordings', group), join(folder, 'recordings', group), { recursive: true });
  }
  await prepare(folder);
  let found: string[] = [];
  const workbench = await openWorkbench({
    folder,
    pageFolder,
    room: room ? { address: '127.0.0.1', names: [], certificate: null, proxy: null } : null,
    log: (text) => void found.push(`server: ${text}`),
  });
  const listening = await workbench.listen(0);
  const address = `${room ? 'https' : 'http'}://localhost:${listening.port}`;
  const browser = await launchBrowser();

  const windowOf = async (options: BrowserContextOptions) => {
    const context = await browser.newContext({
      viewport: { width: 1280, height: 900 },
      ignoreHTTPSErrors: room,
      ...options,
    });
    context.setDefaultTimeout(patience);
    return context;
  };
  // Windows of one kind share what the browser has loaded.
  const usual = await windowOf({});
  const visit: Bench['visit'] = async (path, options) => {
    const context = options === undefined ? usual : await windowOf(options);
    const page = await context.newPage();
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') {
        found.push(`${message.type()} on ${page.url()}: ${message.text()} (${message.location().url})`);
      }
    });
    page.on('pageerror', (error) => found.push(`error on ${page.url()}: ${error.message}`));
    page.on('request', (request) => {
      const url = request.url();
      if (!url.startsWith(`${address}/`) && !/^(?:blob|data|about):/.test(url)) found.push(`left: ${url}`);
    });
    await page.goto(`${address}${path}`);
    return page;
  };
  return {
    folder,
    address,
    browser,
    visit,
    troubles: () => {
      const now = found;
      found = [];
      return now;
    },
    closePages: async () => {
      const others = browser.contexts().filter((context) => context !== usual);
      await Promise.all([
        ...usual.pages().map((page) => page.close()),
        ...others.map((context) => context.close()),
      ]);
    },
    close: async () => {
      await browser.close();
      await listening.close();
      await workbench.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
