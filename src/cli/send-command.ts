import { type Command, InvalidArgumentError } from 'commander';

/** Options of `send`, as they are typed. */
export interface SendOptions {
  readonly to: URL;
  readonly group?: string;
  readonly assistant?: boolean;
  readonly codeFile?: string;
  readonly body?: string;
  readonly flow?: string;
  readonly repeat?: number;
  readonly unread?: boolean;
  readonly fingerprint?: string;
  readonly ca?: string;
  readonly json?: boolean;
}

const examples = `
Examples:
  A recording whose name says what it is of, to the server of the room:
    emberline send brass-12_120-1.txt --to https://192.0.2.10:4173 --group A1 \\
      --code-file code.txt --fingerprint 3F:9A:...

  One whose name says nothing:
    emberline send log7.csv --body brass-12 --flow 120 --repeat 1 \\
      --to https://192.0.2.10:4173 --group A1 --code-file code.txt --ca room.pem

  All recordings of an evening; whatever is there already is not sent again:
    emberline send *.txt --to https://lab.example.org --group A1 --code-file code.txt

Where the connection is lost, sending goes on as soon as it is back, and where the
command is run again, it goes on at the byte where it stopped. The server compares
SHA-256 of what arrived with that of the file here, and writes over nothing. What
was not placed waits there for a day.

The join code stands in the first line of the file of --code-file, or in the variable
EMBERLINE_CODE; it is never typed on the command line, where others could read it.
A server with a certificate of its own making prints the fingerprint for --fingerprint;
compare it before you trust it. docs/sending.md has the same for curl.

Exit status:
  0  all files are there and can be read
  1  all files are there, but there is something to look at
  2  something could not be done`;

/** Registers the command `send`. */
export function sendCommand(
  program: Command,
  action: (files: string[], options: SendOptions) => Promise<void>,
): void {
  program
    .command('send')
    .summary('hand recordings in to a server, from a bench without a browser')
    .description(
      'Sends recordings to a server that serves an experiment folder, goes on where a lost connection stopped it, and says what became of them.',
    )
    .argument('<file...>', 'text files of a logger, gzipped or not')
    .requiredOption('--to <address>', 'address of the server', (text: string) => addressOf(text))
    .option('--group <code>', 'group whose recordings these are')
    .option('--assistant', 'send with the code of the assistants')
    .option('--code-file <file>', 'file whose first line is the join code')
    .option('--body <code>', 'body, where the name of the file does not say it')
    .option('--flow <code>', 'flow, where the name of the file does not say it')
    .option('--repeat <number>', 'repeat, where the name does not say it; 1 to 99', (text: string) =>
      repeatOf(text),
    )
    .option('--unread', 'hand in also what cannot be read by itself')
    .option(
      '--fingerprint <sha256>',
      "SHA-256 of the server's certificate, as the server prints it",
      (text: string) => fingerprintOf(text),
    )
    .option('--ca <file>', "certificate in PEM that vouches for the server's")
    .option('--json', 'one JSON object a file, one a line')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}

function addressOf(text: string): URL {
  const address = URL.canParse(text) ? new URL(text) : null;
  const plain =
    address !== null && address.username === '' && address.password === '' && address.pathname === '/';
  if (address === null || !plain || !['http:', 'https:'].includes(address.protocol)) {
    throw new InvalidArgumentError('Write it as https://192.0.2.10:4173, as the server prints it.');
  }
  return address;
}

function repeatOf(text: string): number {
  if (/^[1-9]\d?$/.test(text)) return Number(text);
  throw new InvalidArgumentError('Write a number from 1 to 99.');
}

function fingerprintOf(text: string): string {
  const digits = text.replaceAll(':', '').toUpperCase();
  if (/^[0-9A-F]{64}$/.test(digits)) return digits;
  throw new InvalidArgumentError('Write 64 hexadecimal digits, with or without colons.');
}
