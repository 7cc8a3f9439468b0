import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Bench } from './support.ts';

/** A browser keeps six connections to a server of HTTP/1.1 at most. */
const connections = 6;

/** More windows than a browser has connections: all are answered, all hear what changes, also without the first one. */
export async function manyWindows({ visit, folder }: Bench): Promise<void> {
  const pages = [];
  for (let i = 0; i <= connections; i++) {
    const page = await visit('/');
    await page.locator('.entry').first().waitFor();
    pages.push(page);
  }
  const [first, ...others] = pages;
  const strange = (name: string) => join(folder, 'recordings', name);
  await writeFile(strange('first-stranger.txt'), '1\n');
  for (const page of pages) await page.getByText('first-stranger.txt').first().waitFor();
  await first?.close();
  await writeFile(strange('second-stranger.txt'), '2\n');
  for (const page of others) await page.getByText('second-stranger.txt').first().waitFor();
}
