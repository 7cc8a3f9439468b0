import type { Command } from 'commander';

/** Options of `verify`, as they are typed. */
export interface VerifyOptions {
  readonly json?: boolean;
}

const examples = `
Examples:
  After a folder was copied, of the copy:
    emberline verify /media/backup/thornwick

  For a program: one JSON object:
    emberline verify courses/thornwick --json

Looked at: whether the trail is unbroken, every recording and sheet that was kept is
there with its bytes, decisions and reference runs are about bytes that are there, and
everything else that people entered can be read. A recording whose text was removed once
it was archived is whole where its file in the archive is, byte for byte. Recordings that
were put there by hand are named: nothing vouches for their bytes. Nothing is written, and
the folder may be in use.

The last line of the trail is shown with its hash. Where you write it down elsewhere, you
can tell later whether lines at the end were taken out. docs/backup.md has more.

Exit status:
  0  the folder is whole
  1  something is missing or was changed
  2  the folder could not be looked at`;

/** Registers the command `verify`. */
export function verifyCommand(
  program: Command,
  action: (folder: string, options: VerifyOptions) => Promise<void>,
): void {
  program
    .command('verify')
    .summary('say whether a folder, or a copy of it, is whole')
    .description(
      'Holds an experiment folder against its own trail: whether every recording and sheet is there, byte for byte, and whatever people decided is about bytes that are there.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--json', 'one JSON object')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
