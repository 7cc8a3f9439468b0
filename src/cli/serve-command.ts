import { type Command, InvalidArgumentError, Option } from 'commander';

/** Options of `serve`, as they are typed. */
export interface ServeCommandOptions {
  readonly port?: number;
  readonly open?: boolean;
  readonly room?: boolean;
  readonly address?: string;
  readonly name?: readonly string[];
  readonly certificate?: string;
  readonly key?: string;
  readonly proxy?: URL;
  readonly passphraseFile?: string;
}

/** Taken where none is asked for; the next ones where it is not free. */
export const usualPort = 4173;

const examples = `
Examples:
  The workbench over a folder, in your browser:
    emberline serve courses/thornwick --open

  On a port of your choice, to be opened by hand:
    emberline serve courses/thornwick --port 8080

  For a room: groups, assistants and a projector sign in on their own devices:
    emberline serve courses/thornwick --room

  The same with a certificate from elsewhere, under a name of its own:
    emberline serve courses/thornwick --room --name lab.example.org \\
      --certificate lab.pem --key lab-key.pem

  The same behind a proxy on this machine that has the certificate:
    emberline serve courses/thornwick --room --proxy https://lab.example.org/

Without --room only this machine reaches the page, and nobody signs in. With it,
the instructor signs in by a passphrase, every group by its join code; emberline
room shows the codes. The passphrase is asked for the first time, or taken from
--passphrase-file or the variable EMBERLINE_PASSPHRASE. Without a certificate one
is made and kept with the folder: browsers warn of it, and its fingerprint, which
is printed, tells whether it is the right one.

What is decided on the page is kept in the folder; recordings are never changed.
Nothing leaves the machine by itself. Ctrl-C ends it.

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
    .option('--room', 'let other devices in, with TLS and signing in')
    .addOption(roomOnly('--address <address>', 'address of this machine to listen on; else all of them'))
    .addOption(roomOnly('--name <host...>', 'host names by which others reach this machine'))
    .addOption(roomOnly('--certificate <file>', 'certificate in PEM, with those that vouch for it'))
    .addOption(roomOnly('--key <file>', 'its key in PEM, without a passphrase'))
    .addOption(
      roomOnly('--proxy <address>', 'what people open where a proxy on this machine has the certificate')
        .argParser((text: string) => proxyOf(text))
        .conflicts(['address', 'certificate', 'key']),
    )
    .addOption(roomOnly('--passphrase-file <file>', 'file whose first line is the passphrase to be set'))
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}

/** An option that says nothing without --room; `roomFor` holds it to that. */
function roomOnly(flags: string, description: string): Option {
  return new Option(flags, `with --room: ${description}`);
}

function proxyOf(text: string): URL {
  const address = URL.canParse(text) ? new URL(text) : null;
  if (address?.protocol === 'https:' && address.pathname === '/' && address.username === '') return address;
  throw new InvalidArgumentError('Write the address that people open, as https://lab.example.org/.');
}

function portOf(text: string): number {
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  if (port >= 1 && port <= 65_535) return port;
  throw new InvalidArgumentError('Write a port from 1 to 65535.');
}
