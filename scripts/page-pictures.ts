/**
 * Takes pictures of the page on the demo, and of a session that runs, for the README and the docs. Run with
 * `npm run pictures`; names of places behind `node build/page-pictures.js` take those alone.
 */
import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { openWorkbench } from '../src/server/index.ts';
import { openRoomAccess, setPassphrase, shownCode } from '../src/store/index.ts';
import { launchBrowser } from '../test/browser/support-browser.ts';
import { sessionFolder } from './pictures/session-folder.ts';

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

/** Places that are shown in the projector view too. */
const forAClass = ['experiment', 'floor'];

const places: readonly Picture[] = [
  { name: 'experiment', path: '/', whole: figure },
  { name: 'plan', path: '/plan', whole: figure },
  { name: 'compare', path: '/compare', whole: figure },
  { name: 'class', path: '/class', whole: figure },
  { name: 'add', path: '/add', whole: '.add-drop' },
  { name: 'submissions', path: '/submissions', whole: '.submissions td' },
  { name: 'recording', path: recording, whole: '[role=slider]' },
  { name: 'steps', path: `${recording}/steps`, whole: 'math' },
];

/** Places that show a session while it runs. */
const during: readonly Picture[] = [
  { name: 'floor', path: '/floor', whole: 'text=/counted from the first recording/' },
  { name: 'rig', path: '/rig', whole: '.rig table' },
];

/** What a group sees at its bench. */
const atTheBench = 'group';

const wanted = process.argv.slice(2);
const some = (pictures: readonly Picture[]) =>
  pictures.filter(({ name }) => wanted.length === 0 || wanted.includes(name));

const browser = await launchBrowser();
try {
  await ofFolder(join('demo', 'thornwick'), some(places));
  const phone = wanted.length === 0 || wanted.includes(atTheBench);
  if (phone || some(during).length > 0) {
    const session = await sessionFolder();
    try {
      await ofFolder(session.folder, some(during));
      if (phone) await ofGroup(session.folder, 'A2');
    } finally {
      session.end();
    }
  }
} finally {
  await browser.close();
}

/** Pictures of places over one folder, each in light, dark and narrow, some for a class. */
async function ofFolder(folder: string, pictures: readonly Picture[]): Promise<void> {
  if (pictures.length === 0) return;
  const pageFolder = join('dist', 'web');
  const workbench = await openWorkbench({ folder, pageFolder, log: (text) => console.error(text) });
  const listening = await workbench.listen(0);
  try {
    for (const place of pictures) {
      const { port } = listening;
      await take(port, place, place.name, { viewport: wide, colorScheme: 'light' });
      await take(port, place, `${place.name}-dark`, { viewport: wide, colorScheme: 'dark' });
      await take(port, place, `${place.name}-narrow`, { viewport: narrow, colorScheme: 'light' });
      if (!forAClass.includes(place.name)) continue;
      const hidden = { ...place, path: `${place.path}?view=projector` };
      await take(port, hidden, `${place.name}-projector`, { viewport: wide, colorScheme: 'light' });
    }
  } finally {
    await listening.close();
    await workbench.close();
  }
}

/** The page of a group on its phone, while its trial cools. */
async function ofGroup(folder: string, group: string): Promise<void> {
  await setPassphrase(folder, randomUUID());
  const { groups } = await openRoomAccess(folder, [group]);
  const workbench = await openWorkbench({
    folder,
    pageFolder: join('dist', 'web'),
    room: { address: '127.0.0.1', names: [], certificate: null, proxy: null },
    log: (text) => console.error(text),
  });
  const listening = await workbench.listen(0);
  const context = await browser.newContext({
    viewport: narrow,
    ignoreHTTPSErrors: true,
    reducedMotion: 'reduce',
  });
  try {
    const page = await context.newPage();
    await page.goto(`https://localhost:${listening.port}/`);
    await page.getByLabel('Group', { exact: true }).fill(group);
    await page.getByLabel('Join code').fill(shownCode(groups.get(group) ?? ''));
    await page.getByRole('button', { name: 'sign in' }).click();
    await page.getByText('cooling', { exact: true }).first().waitFor({ timeout: 120_000 });
    await page.evaluate(() => document.fonts.ready.then(() => undefined));
    await page.screenshot({ path: join('docs', 'pictures', `${atTheBench}.png`) });
  } finally {
    await context.close();
    await listening.close();
    await workbench.close();
  }
}

async function take(
  port: number,
  { path, whole }: Picture,
  name: string,
  look: { viewport: { width: number; height: number }; colorScheme: 'light' | 'dark' },
): Promise<void> {
  const context = await browser.newContext({ ...look, deviceScaleFactor: 1, reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(`http://localhost:${port}${path}`);
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
  // Of what was handed in, that of a group with something to look at again.
  if (path === '/submissions') {
    await page.getByRole('button', { name: 'A3', exact: true }).click();
    await page.getByText('look again').first().waitFor({ timeout: 120_000 });
    await page.getByRole('heading', { name: 'Group A3' }).evaluate((one) => one.scrollIntoView());
  }
  await page.screenshot({ path: join('docs', 'pictures', `${name}.png`) });
  await context.close();
}
