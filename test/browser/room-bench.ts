import type { BrowserContextOptions, Page } from 'playwright-core';
import { openRoomAccess, setPassphrase, shownCode } from '../../src/store/index.ts';
import { type Bench, openBench } from './support.ts';

export const passphrase = 'brass sphere, cold jet';

/** A server that is open to others, over a copy of a few groups of the demo. */
export interface RoomBench extends Bench {
  /** Join code of a group, as it stands on its card. */
  codeOf(group: string): Promise<string>;
  /** A device at which somebody signs in; each has its own cookies. */
  device(options?: BrowserContextOptions): Promise<Page>;
}

/** @param groups of the demo, as A/A1 */
export async function openRoomBench(
  groups: readonly string[],
  prepare: (folder: string) => Promise<void> = async () => undefined,
): Promise<RoomBench> {
  const bench = await openBench(
    groups,
    async (folder) => {
      await setPassphrase(folder, passphrase);
      await prepare(folder);
    },
    true,
  );
  return {
    ...bench,
    codeOf: async (group) => {
      const access = await openRoomAccess(bench.folder, [group]);
      return shownCode(access.groups.get(group) ?? '');
    },
    device: (options = {}) => bench.visit('/', options),
  };
}

/** Signs a group in by its card, as somebody types it. */
export async function signInGroup(page: Page, group: string, code: string): Promise<void> {
  await page.getByLabel('Group', { exact: true }).fill(group.toLowerCase());
  await page.getByLabel('Join code').fill(` ${code.toLowerCase().replace('-', ' ')} `);
  await page.getByRole('button', { name: 'sign in' }).click();
  await page.getByRole('heading', { name: 'Recordings', exact: true }).waitFor();
}
