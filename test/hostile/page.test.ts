/** The pages in a real browser over a folder in which every text that people write is markup. */
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openRoomBench, type RoomBench, signInGroup } from '../browser/room-bench.ts';
import { type Bench, openBench } from '../browser/support.ts';
import { hostileName, injected, spoil, spoilFurther, spoilt } from './spoilt-course.ts';

const patience = 60_000;

declare global {
  interface Window {
    /** What the policy of the page has stopped. */
    violations: string[];
    /** Set where a text was run. */
    hits: number;
    hit: () => void;
  }
}

/** Has a window count what its policy stops, and what of a text is run. */
async function counting(context: BrowserContext): Promise<string[]> {
  const dialogs: string[] = [];
  context.setDefaultTimeout(patience);
  await context.addInitScript(() => {
    window.violations = [];
    window.hits = 0;
    window.hit = () => {
      window.hits += 1;
    };
    document.addEventListener('securitypolicyviolation', (event) => {
      window.violations.push(`${event.violatedDirective} ${event.blockedURI}`);
    });
  });
  context.on('dialog', (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  return dialogs;
}

/** What a page has to show for a text that was taken for more than text. */
function harmOf(page: Page): Promise<unknown> {
  return page.evaluate(
    (selector) => ({
      violations: window.violations,
      hits: window.hits,
      injected: Array.from(document.querySelectorAll(selector), (one) => one.outerHTML.slice(0, 200)),
      handlers: Array.from(document.querySelectorAll('*'))
        .filter((one) => Array.from(one.attributes).some(({ name }) => /^on/i.test(name)))
        .map((one) => one.outerHTML.slice(0, 200)),
    }),
    injected,
  );
}
const noHarm = { violations: [], hits: 0, injected: [], handlers: [] };

describe('the workbench', () => {
  let bench: Bench;
  let context: BrowserContext;
  let dialogs: string[];
  beforeAll(async () => {
    bench = await openBench(['A/A1'], async (folder) => spoil(folder));
    await spoilFurther((path, body) =>
      fetch(`${bench.address}${path}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(body),
      }),
    );
    context = await bench.browser.newContext({ viewport: { width: 1280, height: 900 } });
    dialogs = await counting(context);
  }, 120_000);
  afterAll(() => bench?.close());

  const address = (path: string) => `/recordings/${path.split('/').map(encodeURIComponent).join('/')}`;
  test.each([
    ['/', '.figure-paper svg', 'course'],
    ['/plan', '.figure-paper svg', 'left-out'],
    ['/compare', '.figure-paper svg', null],
    ['/class', '.figure-paper svg', null],
    ['/add', '.add-drop', null],
    ['/floor', 'main h2', null],
    ['/floor?view=projector', 'main h2', null],
    ['/rig', 'main h2', null],
    ['/submissions', '.submissions h2', null],
    [address(spoilt), '[role=slider]', 'why'],
    [`${address(spoilt)}/steps`, 'math', null],
    [address(`recordings/A/A1/${hostileName}`), 'main', null],
    ['/recordings/%ff%fe', 'main', null],
    ['/recordings/%3Cimg%20src=x%20onerror=hit()%3E', 'main', null],
    ['/%3Cscript%3Ehit()%3C%2Fscript%3E?%3Cscript%3E#javascript:hit()', 'main', null],
  ])('%s takes no text for more than text', async (path, whole, mark) => {
    const page = await context.newPage();
    const troubles: string[] = [];
    page.on('pageerror', (error) => troubles.push(error.message));
    page.on('console', (message) => {
      if (/content security policy/i.test(message.text())) troubles.push(message.text());
    });
    await page.goto(`${bench.address}${path}`);
    await page.locator(whole).first().waitFor();
    if (mark !== null) await page.getByText(`${mark}</p></text></script><script>hit()`).first().waitFor();
    expect(await harmOf(page)).toEqual(noHarm);
    expect(troubles).toEqual([]);
    expect(dialogs).toEqual([]);
    await page.close();
  });

  test('shows a hostile note of a group, and its feedback, as text', async () => {
    const page = await context.newPage();
    await page.goto(`${bench.address}/submissions`);
    await page.getByText('A1', { exact: true }).first().click();
    await page.getByText('note</p></text></script><script>hit()').first().waitFor();
    expect(await harmOf(page)).toEqual(noHarm);
    await page.close();
  });

  test('stops a script and a style that somebody did put into it: the count is able to count', async () => {
    const page = await context.newPage();
    await page.goto(bench.address);
    await page.locator('.figure-paper svg').first().waitFor();
    await page.evaluate(() => {
      const inserted = document.createElement('div');
      inserted.innerHTML = '<img src="data:," onerror="hit()"><style>p { color: red }</style>';
      document.body.append(inserted);
    });
    await page.waitForFunction(() => window.violations.length >= 2);
    expect(await page.evaluate(() => window.hits)).toBe(0);
    await page.close();
  });

  test('cannot be put into a frame', async () => {
    const page = await context.newPage();
    await page.route('http://evil.example/', (route) =>
      route.fulfill({ contentType: 'text/html', body: `<iframe src="${bench.address}/"></iframe>` }),
    );
    await page.goto('http://evil.example/');
    const frame = await (await page.locator('iframe').elementHandle())?.contentFrame();
    await expect.poll(() => frame?.url()).toMatch(/^chrome-error:/);
    await page.close();
  });

  test.each(['/', '/room.html', '/plan'])(
    'the HTML at %s holds no script and no style of its own',
    async (path) => {
      const answer = await fetch(`${bench.address}${path}`);
      const html = await answer.text();
      expect(html).toMatch(/<script type="module"[^>]* src="\/assets\//);
      expect(html.match(/<script/g)).toHaveLength(html.match(/<script[^>]*\ssrc="\/[a-z]/g)?.length ?? 0);
      expect(html).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son[a-z]+=|javascript:/i);
      const policy = answer.headers.get('content-security-policy') ?? '';
      for (const part of [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "frame-ancestors 'none'",
      ]) {
        expect(policy.split('; ')).toContain(part);
      }
      expect(answer.headers.get('x-frame-options')).toBe('DENY');
    },
  );
});

describe('the page of a group', () => {
  let bench: RoomBench;
  beforeAll(async () => {
    bench = await openRoomBench(['A/A1'], async (folder) => spoil(folder));
  }, 120_000);
  afterAll(() => bench?.close());

  test('takes no text for more than text, before and after signing in', async () => {
    const page = await bench.device({});
    const dialogs = await counting(page.context());
    await page.reload();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    await page.getByLabel('Group', { exact: true }).fill('<script>hit()</script>');
    await page.getByLabel('Join code').fill('"><img src=x onerror=hit()>');
    await page.keyboard.press('Enter');
    await page.getByRole('alert').waitFor();
    expect(await harmOf(page)).toEqual(noHarm);
    await signInGroup(page, 'A1', await bench.codeOf('A1'));
    await page.getByRole('heading', { name: 'Bench 1, section A' }).waitFor();
    await page.getByText('brass-12_120-9.txt').first().waitFor();
    await page.getByLabel('Files of the logger, as it wrote them').setInputFiles({
      name: hostileName,
      mimeType: 'text/plain',
      buffer: Buffer.from('<script>hit()</script>;<img src=x onerror=hit()>\n1;2\n2;3\n'),
    });
    await page.getByRole('region', { name: hostileName }).waitFor();
    expect(await harmOf(page)).toEqual(noHarm);
    expect(dialogs).toEqual([]);
    await page.context().close();
  });
});
