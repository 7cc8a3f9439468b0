import type { Command } from 'commander';

/** Options of `check`, as they are typed. */
export interface CheckOptions {
  readonly json?: boolean;
}

const examples = `
Examples:
  Before term, with the file open in an editor beside it:
    emberline check .

  In a script that stops when something is unusual:
    emberline check courses/thornwick && emberline plan courses/thornwick

  For a program: one JSON object with faults, or with conditions and remarks:
    emberline check . --json

Looked at: units, codes and what belongs together; then what is unusual, such
as a sphere wider than the jet, a Biot number over 0.1, a target over an
adhesive's limit, a flow per hour for one per minute, a gauge pressure taken for
an absolute one, a mass that does not fit diameter and material; and recordings
whose paths do not say what they are of.

Exit status:
  0  the file fits; there are notes at most
  1  the file fits, and there is a caution to look at
  2  the file cannot be used; each fault is named with its line`;

/** Registers the command `check`. */
export function checkCommand(
  program: Command,
  action: (folder: string, options: CheckOptions) => Promise<void>,
): void {
  program
    .command('check')
    .summary('hold an experiment file against its rules, and say what is unusual')
    .description(
      'Reads experiment.yaml in a folder, names every fault with its line and mend, and says what is unusual about the rig, the conditions and the protocol before anything is measured.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--json', 'one JSON object, in SI')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
