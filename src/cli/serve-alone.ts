import { hostname } from 'node:os';
import { openTrail, StoreError, serveAlone, type TrailEntry } from '../store/index.ts';
import { version } from '../version.ts';
import { printableLines, type Surroundings } from './terminal.ts';

/** Work on a folder that no other server does at the same time. */
export interface AloneOnFolder {
  /** Resolves where the folder was lost to another server. */
  readonly lost: Promise<void>;
  end(): Promise<void>;
}

/**
 * Takes a folder for this server, and writes into its trail that it started. A folder that cannot be written to, as one
 * of an earlier term, can still be looked at.
 *
 * @throws FolderServedError where another server works on it
 */
export async function aloneOn(folder: string, { stderr }: Surroundings): Promise<AloneOnFolder> {
  const say = (text: string) => void stderr.write(`emberline: ${printableLines(text)}\n`);
  const served = await serveAlone(folder, Date.now()).catch((error: unknown) => {
    if (!(error instanceof StoreError)) throw error;
    say(`${error.message}: it can be looked at, and nothing that is done on the page will be kept`);
    return null;
  });
  if (served === null) return { lost: new Promise(() => undefined), end: async () => undefined };
  const trail = openTrail(folder, { now: () => Date.now() });
  const tell = async (deed: TrailEntry['deed'], note: string) => {
    const who = { role: 'server', group: null, label: `${hostname()} ${process.pid}` };
    await trail.write({ who, deed, note }).catch((error: unknown) => {
      if (!(error instanceof StoreError)) throw error;
      say(error.message);
    });
  };
  const before = served.killed === null ? '' : `; the one before did not end by itself (${served.killed})`;
  await tell('server-started', `Emberline ${version}${before}`);
  return {
    lost: served.lost.then(() => {
      say(
        'another server took this folder while this one did not answer, so this one ends; open the page of that one',
      );
    }),
    end: async () => {
      await tell('server-stopped', '');
      await served.release();
    },
  };
}
