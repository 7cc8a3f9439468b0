import type { Command } from 'commander';

/** Options of `class`, as they are typed. */
export interface ClassCommandOptions {
  readonly section?: string;
  readonly earlier?: readonly string[];
  readonly names?: string;
  readonly json?: boolean;
}

const examples = `
Examples:
  The whole class, from what was analyzed before; what is new is analyzed first:
    emberline class courses/thornwick

  One section, held against two earlier terms:
    emberline class courses/thornwick --section A --earlier ../2025-autumn --earlier ../2026-spring

  For a program: one JSON object; times in s, spreads as standard deviations of ln tau:
    emberline class courses/thornwick --json

Groups are held against each other in each condition, by a robust mean: 'look again' says
that a result lies apart, never that it is false. A class in which nothing is amiss has
somebody asked to look again about once in twenty times. With fewer than six groups in a
condition nobody is singled out, unless earlier terms tell how much groups usually differ:
list their folders under earlier-terms in experiment.yaml, or give them with --earlier.
Only their results and decisions are read, nothing is written there.

Groups appear by their codes. Names go in only with --names, a CSV file of code and name,
which is best kept apart from the course.

Exit status:
  0  done
  1  done, but somebody is asked to look again, or a recording does not count
  2  something could not be done`;

/** Registers the command `class`. */
export function classCommand(
  program: Command,
  action: (folder: string, options: ClassCommandOptions) => Promise<void>,
): void {
  program
    .command('class')
    .summary('roll up a class: who should look again, how groups scatter, where it comes from')
    .description(
      'Rolls up all recordings of an experiment folder: who is asked to look again and why, the spread within and between groups, its causes, traces that were handed in twice, labels and sensor chains that do not fit.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--section <code>', 'one section alone')
    .option(
      '--earlier <folder>',
      'folder of an earlier term, beside those of the experiment file; may stand several times',
      (folder: string, before: readonly string[] = []) => [...before, folder],
    )
    .option('--names <file>', 'CSV of code and name, put beside the codes')
    .option('--json', 'one JSON object; times in s, spreads of ln tau')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
