import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { emptyProject, npmInstall } from './install.ts';
import { mustRun, runIn } from './process.ts';

/** A Node to try the package on. */
export interface NodeBinary {
  /** As it says itself: v22.1.0 */
  readonly version: string;
  readonly path: string;
}

/** The registry's packages of Node itself are called after system and processor. */
const system = process.platform === 'win32' ? 'win' : process.platform;
const packageName = `node-${system}-${process.arch}`;

/**
 * Fetches a Node from the registry: the package of its binary, which needs no script.
 *
 * @param wanted a version or a range, as 22
 * @returns null, with a line to the log, where the registry has none for this machine or it does not run here
 */
export async function nodeOf(
  scratch: string,
  wanted: string,
  log: (line: string) => void,
): Promise<NodeBinary | null> {
  const what = `${packageName}@${wanted}`;
  try {
    await mkdir(join(scratch, 'nodes'), { recursive: true });
    const folder = await emptyProject(join(scratch, 'nodes', wanted));
    await npmInstall(folder, what);
    const binary = process.platform === 'win32' ? 'node.exe' : 'node';
    const path = join(folder, 'node_modules', packageName, 'bin', binary);
    const { stdout } = await mustRun(folder, path, ['--version']);
    return { version: stdout.trim(), path };
  } catch (error) {
    log(`${what} is not to be had: ${error instanceof Error ? error.message : error}`);
    return null;
  }
}

/** What the installed command says on a Node. */
export function said(node: NodeBinary, folder: string, main: string, words: readonly string[]) {
  return runIn(folder, node.path, [main, ...words]);
}
