import { spawn } from 'node:child_process';

/** Program that opens an address, by system; no shell sees the address. */
const openers: Readonly<Partial<Record<NodeJS.Platform, readonly [program: string, ...words: string[]]>>> = {
  darwin: ['open'],
  win32: ['rundll32', 'url.dll,FileProtocolHandler'],
};

/**
 * Opens an address in the browser of whoever sits here.
 *
 * @param address of this server
 * @returns false where the system has nothing to open it with
 */
export function openInBrowser(address: string, platform: NodeJS.Platform): Promise<boolean> {
  const [program, ...words] = openers[platform] ?? ['xdg-open'];
  return new Promise((resolve) => {
    const child = spawn(program, [...words, address], { stdio: 'ignore', detached: true, shell: false });
    child.once('error', () => resolve(false));
    child.once('spawn', () => {
      child.unref();
      resolve(true);
    });
  });
}
