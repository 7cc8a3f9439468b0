import chromium from '@sparticuz/chromium';
import { type Browser, chromium as playwright } from 'playwright-core';

/** Names under which playwright-core finds a browser that is installed. */
const channels = ['chrome', 'msedge', 'chromium'];

const packed = process.platform === 'linux' && process.arch === 'x64';

/** Unpacks the browser before any test starts one: two that unpack at once find it half written. */
export async function unpackBrowser(): Promise<void> {
  if (packed) await chromium.executablePath();
}

/**
 * Starts a real Chromium: the packed one of the registry on Linux x64, elsewhere an installed Chrome or Edge.
 *
 * @throws Error where there is none: a test that is skipped in silence proves nothing
 */
export async function launchBrowser(): Promise<Browser> {
  if (packed) {
    return playwright.launch({
      executablePath: await chromium.executablePath(),
      args: [
        // A single process ends with the first page that is closed. OpenGL in software leaves a page standing for seconds
        // on a loaded machine, at times for half a minute, in a wait that computes nothing.
        ...chromium.args.filter((one) => !/^--single-process$|gpu|use-gl|swiftshader/.test(one)),
        '--disable-gpu',
        '--no-sandbox',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    });
  }
  const refused: string[] = [];
  for (const channel of channels) {
    try {
      return await playwright.launch({ channel });
    } catch (error) {
      refused.push(`${channel}: ${error instanceof Error ? error.message.split('\n')[0] : String(error)}`);
    }
  }
  throw new Error(
    `The tests of the page need a browser: install Chrome or Edge, and run them again.\n${refused.join('\n')}`,
  );
}
