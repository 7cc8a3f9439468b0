import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type OpenedWorkbench, openWorkbench, PortTakenError } from '../server/index.ts';
import { ExperimentFileError, readExperiment, readExperimentText } from '../store/index.ts';
import { interrupted } from './interrupted.ts';
import { aloneOn } from './serve-alone.ts';
import { openInBrowser } from './serve-browser.ts';
import { type ServeCommandOptions, usualPort } from './serve-command.ts';
import { openedText, roomFor } from './serve-room.ts';
import { type ExitStatus, inkFor, printableLines, type Surroundings } from './terminal.ts';
import { downloadModule, workerModule } from './worker-module.ts';

/** How many ports from the usual one on are tried. */
const tries = 20;

/**
 * The command `serve`: runs until it is interrupted.
 *
 * @param until resolves when it is to end; without it, Ctrl-C or a request of the system to end
 * @throws ExperimentFileError where the folder holds no experiment; FolderServedError, PortTakenError
 */
export async function serveFolder(
  folder: string,
  options: ServeCommandOptions,
  surroundings: Surroundings,
  until: () => Promise<void> = interrupted,
): Promise<ExitStatus> {
  await requireExperiment(folder, surroundings);
  const alone = await aloneOn(folder, surroundings);
  try {
    const ended = async () => {
      return Promise.race([until().then(() => 0 as const), alone.lost.then(() => 2 as const)]);
    };
    return await serveUntil(folder, options, surroundings, ended);
  } finally {
    await alone.end();
  }
}

async function serveUntil(
  folder: string,
  options: ServeCommandOptions,
  surroundings: Surroundings,
  ended: () => Promise<ExitStatus>,
): Promise<ExitStatus> {
  const { stdout, stderr, environment } = surroundings;
  const room = await roomFor(folder, options, surroundings);
  const workbench = await openWorkbench({
    folder,
    pageFolder: pageFolder(),
    worker: workerModule(),
    downloadProcess: downloadModule(),
    room,
    log: (text) => void stderr.write(`emberline: ${printableLines(text)}\n`),
  });
  try {
    const listening = await listenSomewhere(workbench.listen, options.port);
    stdout.write(openedText(folder, listening.reach, inkFor(stdout, environment)));
    const [address] = listening.reach.addresses;
    if (options.open === true && !(await openInBrowser(address ?? '', process.platform))) {
      stderr.write('emberline: nothing here opens a browser by itself; open the address by hand\n');
    }
    const status = await ended();
    await listening.close();
    return status;
  } finally {
    await workbench.close();
  }
}

/** A file with faults can be mended from the page; without a file there is no experiment. */
async function requireExperiment(folder: string, { stderr }: Surroundings): Promise<void> {
  await readExperimentText(folder).catch((error: unknown) => {
    if (!(error instanceof ExperimentFileError)) throw error;
    throw new Error(`${error.message}\nTo start one there: emberline new ${folder}`);
  });
  await readExperiment(folder).catch((error: unknown) => {
    if (!(error instanceof ExperimentFileError)) throw error;
    stderr.write(
      `${printableLines(error.message)}\nemberline: recordings wait until these lines are mended\n`,
    );
  });
}

/** A port that was asked for, or the first free one from the usual one on. */
async function listenSomewhere(
  listen: (port: number) => Promise<OpenedWorkbench>,
  asked: number | undefined,
): Promise<OpenedWorkbench> {
  const last = asked ?? usualPort + tries;
  for (let port = asked ?? usualPort; ; port++) {
    try {
      return await listen(port);
    } catch (error) {
      if (!(error instanceof PortTakenError)) throw error;
      if (port < last) continue;
      throw new PortTakenError(
        asked === undefined
          ? `The ports from ${usualPort} to ${last} are not free: end what runs there, or give another one as --port 8080.`
          : `Port ${asked} is not free: end what runs there, or leave --port out and the next free one is taken.`,
      );
    }
  }
}

/** The built page: beside the bundled program, or in dist where the program runs from its source. */
function pageFolder(): string {
  const beside = fileURLToPath(new URL('web/', import.meta.url));
  const built = fileURLToPath(new URL('../../dist/web/', import.meta.url));
  return existsSync(beside) ? beside : built;
}
