import type { Command } from 'commander';

/** Options of `compare`, as they are typed. */
export interface CompareCommandOptions {
  readonly json?: boolean;
}

const examples = `
Examples:
  Every recording in the folder whose path says what it is of:
    emberline compare courses/thornwick

  Only these:
    emberline compare courses/thornwick courses/thornwick/recordings/A/*/*.txt

  For a program: one JSON object, in SI:
    emberline compare . --json

Recordings are read and judged as emberline analyze does, with sensor and protocol of the
experiment file. Repeats of a condition are put together; a recording that must be repeated
does not count. The verdict has three values, for agreement within an uncertainty of 30 %
proves little: agree, disagree, too weak to tell.

Exit status:
  0  done
  1  done, but a recording must be repeated, is a copy of another, or its path does not
     say what it is of
  2  something could not be done`;

/** Registers the command `compare`. */
export function compareCommand(
  program: Command,
  action: (folder: string, recordings: string[], options: CompareCommandOptions) => Promise<void>,
): void {
  program
    .command('compare')
    .summary('hold measured time constants against theory')
    .description(
      'Analyzes the recordings of an experiment folder and compares their time constants with the predicted ones: ratio, normalised error, verdict, trends with diameter and speed, and the heat transfer that they stand for.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .argument('[recording...]', 'only these files; else all that fit the pattern of the experiment file')
    .option('--json', 'one JSON object, in SI; temperatures in remarks in degrees Celsius')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
