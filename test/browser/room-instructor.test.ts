import { cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openWorkbench } from '../../src/server/index.ts';
import { openRoomAccess, setPassphrase, shownCode } from '../../src/store/index.ts';
import { launchBrowser } from './support-browser.ts';

const passphrase = 'brass sphere, cold jet';
let browser: Browser;
const closing: (() => Promise<void>)[] = [];
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(async () => {
  await browser.close();
  for (const close of closing.reverse()) await close();
});

it('shows the instructor who may come in, makes a new code, and releases results', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'emberline-room-'));
  closing.push(() => rm(folder, { recursive: true, force: true }));
  await cp('demo/thornwick/experiment.yaml', join(folder, 'experiment.yaml'));
  await setPassphrase(folder, passphrase);
  const workbench = await openWorkbench({
    folder,
    pageFolder: 'dist/web',
    room: { address: '127.0.0.1', names: [], certificate: null, proxy: null },
    log: (text) => expect.fail(text),
  });
  closing.push(workbench.close);
  const { port, close, reach } = await workbench.listen(0);
  closing.push(close);
  const context = await browser.newContext({ ignoreHTTPSErrors: true });
  const page = await context.newPage();

  await page.goto(`https://localhost:${port}/`);
  await page.getByRole('radio', { name: /staff|instructor/i }).check();
  await page.getByLabel('As').selectOption('instructor');
  await page.getByLabel('Code').fill(passphrase);
  await page.getByRole('button', { name: 'sign in' }).click();
  await page.getByRole('link', { name: 'room' }).click();

  await page.getByRole('heading', { name: 'The room' }).waitFor();
  const print = await page.locator('.room-print').innerText();
  expect(print.replace(/\s/g, ':')).toBe(reach.fingerprint);
  await page.getByRole('button', { name: 'show the codes' }).click();
  const before = shownCode((await openRoomAccess(folder, [])).groups.get('A1') ?? '');
  await page.getByText(before).waitFor();
  await page.getByRole('button', { name: 'new code for group A1' }).click();
  await page.getByText(before).waitFor({ state: 'detached' });
  const after = shownCode((await openRoomAccess(folder, [])).groups.get('A1') ?? '');
  expect(await page.getByRole('row', { name: /^group A1 / }).innerText()).toContain(after);

  await page.getByLabel('Your initials').fill('IK');
  await page.getByRole('button', { name: 'release the results of section A' }).click();
  await page.getByText(/Section A: released \(.*, IK\)/).waitFor();
  expect(JSON.parse(await readFile(join(folder, 'releases.json'), 'utf8'))).toMatchObject({
    releases: [{ section: 'A', who: 'IK', released: true }],
  });
  await page.getByRole('button', { name: 'sign instructor out' }).click();
  await page.reload();
  await page.getByRole('button', { name: 'sign in' }).waitFor();
});
