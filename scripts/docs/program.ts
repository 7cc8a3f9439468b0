import { PassThrough } from 'node:stream';
import type { Command } from 'commander';
import { emberlineProgram } from '../../src/cli/program.ts';

/** The commands, to be looked at and not run. */
export function describedProgram(): Command {
  const nowhere = new PassThrough();
  return emberlineProgram({ stdout: nowhere, stderr: nowhere, environment: {} }, () => undefined);
}

/** What `--help` prints behind the options: examples, and what the exit status means. */
export function wordsAfterHelp(command: Command): string {
  let written = '';
  command.configureOutput({
    writeOut: (text) => {
      written += text;
    },
  });
  command.outputHelp();
  const help = command.helpInformation();
  return written.slice(written.indexOf(help) + help.length).trim();
}
