import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import type { Surroundings } from './terminal.ts';

/**
 * Asks for a new passphrase at the terminal, twice, without showing it.
 *
 * @throws Error where there is no terminal, or the two differ
 */
export async function askPassphrase({ stderr }: Surroundings): Promise<string> {
  if (!process.stdin.isTTY) {
    throw new Error(
      'Nobody can be asked for a passphrase here: give it by --passphrase-file or the variable EMBERLINE_PASSPHRASE.',
    );
  }
  const first = await askHidden('Passphrase: ', stderr);
  const second = await askHidden('The same once more: ', stderr);
  if (first !== second) throw new Error('The two are not the same: nothing was set; try again.');
  return first;
}

function askHidden(question: string, output: NodeJS.WritableStream): Promise<string> {
  output.write(question);
  // What is typed would be echoed here.
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() });
  const lines = createInterface({ input: process.stdin, output: nowhere, terminal: true });
  return new Promise((resolve, reject) => {
    lines.once('line', (line) => {
      resolve(line);
      lines.close();
    });
    lines.once('SIGINT', () => lines.close());
    lines.once('close', () => {
      output.write('\n');
      reject(new Error('No passphrase was given.'));
    });
  });
}
