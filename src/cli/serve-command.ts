import { type Command, InvalidArgumentError } from 'commander';

/** Options of `serve`, as they are typed. */
export interface ServeCommandOptions {
  readonly port?: number;
  readonly open?: boolean;
}

/** Taken where none is asked for; the next ones where it is not free. */
export const usualPort = 4173;

const examples = `
Examples:
  The workbench over a folder, in your browser:
    emberline serve courses/thornwick --open

  On a port of your choice, to be opened by hand:
    emberline serve courses/thornwick --port 8080

Only this machine reaches the page, and nothing leaves it. What is decided on the
page is kept in the folder; recordings are never changed. Ctrl-C ends it.

Exit status:
  0  ended by Ctrl-C
  2  could not be started`;

/** Registers the command `serve`. */
export function serveCommand(
  program: Command,
  action: (folder: string, options: ServeCommandOptions) => Promise<void>,
): void {
  program
    .command('serve')
    .summary('open the workbench over an experiment folder in the browser')
    .description(
      'Serves a page on this machine on which the recordings of an experiment folder are read, decided on and compared, and sessions are planned.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option(
      '--port <number>',
      `port to listen on; else ${usualPort}, or the next one that is free`,
      (text: string) => portOf(text),
    )
    .option('--open', 'open the page in the browser')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}

function portOf(text: string): number {
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  if (port >= 1 && port <= 65_535) return port;
  throw new InvalidArgumentError('Write a port from 1 to 65535.');
}
