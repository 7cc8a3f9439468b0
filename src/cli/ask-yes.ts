import { createInterface } from 'node:readline/promises';
import { OptionError } from './wishes.ts';

/**
 * Asks a question at the terminal that only the whole word yes affirms.
 *
 * @param otherwise what to do where nobody can be asked, for the error
 * @throws OptionError where there is no terminal
 */
export async function askYes(
  question: string,
  output: NodeJS.WritableStream,
  otherwise: string,
): Promise<boolean> {
  if (!process.stdin.isTTY) throw new OptionError(`nobody can be asked here: ${otherwise}`);
  const lines = createInterface({ input: process.stdin, output });
  try {
    const answer = await lines.question(`${question} Type yes: `);
    return answer.trim().toLowerCase() === 'yes';
  } finally {
    lines.close();
  }
}
