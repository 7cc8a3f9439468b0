import type { Command } from 'commander';

/** Options of `mark`, as they are typed. */
export interface MarkOptions {
  readonly group?: string;
  readonly take?: readonly string[];
  readonly of?: string;
  readonly sheets?: string;
  readonly templates?: boolean;
  readonly out?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

const examples = `
Examples:
  Empty sheets for the groups to fill in, a row for each of their recordings:
    emberline mark courses/thornwick --sheets sheets/

  Take filled sheets; of a group, the latest one counts, and all are kept:
    emberline mark courses/thornwick --take A1.xlsx A2.csv
    emberline mark courses/thornwick --take values.csv --of A3

  Who is within, who should look again, and what gives their values:
    emberline mark courses/thornwick
    emberline mark courses/thornwick --group A1

  A text for each group and a table for the marks, to be changed before they are used:
    emberline mark courses/thornwick --out feedback-texts/

  The words of these texts, to be made your own; what you change stays:
    emberline mark courses/thornwick --templates

Values are worked out once more from the group's own recordings, with what people decided
about them. Where one is outside the tolerance, slips that are usual are done on the same
recording, single and in pairs; the one that gives the value is named. It may still be
something else: it is for you to say.

Tolerances, what is asked for, and the rubric stand under marking in experiment.yaml.
Groups go by their codes, and nothing is sent anywhere. docs/submissions.md has the
columns of a sheet.

Exit status:
  0  all values are within the tolerance, or right given an earlier one
  1  there is something to look at again
  2  something could not be done`;

/** Registers the command `mark`. */
export function markCommand(
  program: Command,
  action: (folder: string, options: MarkOptions) => Promise<void>,
): void {
  program
    .command('mark')
    .summary('hold what groups hand in against their own recordings, write feedback')
    .description(
      'Holds the values that groups hand in against what their own recordings come to, says what gives those that are outside the tolerance, and writes feedback and a table for the marks.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--group <code>', 'this group alone, with every value')
    .option('--take <file...>', 'take sheets, CSV or XLSX; they are kept below submissions/')
    .option('--of <code>', 'with --take: the group whose sheets these are')
    .option('--sheets <folder>', 'write empty sheets for the groups, CSV and XLSX')
    .option('--templates', 'put the texts of the feedback into feedback/, to be changed')
    .option('--out <folder>', 'write a text for each group, and marks.csv')
    .option('--force', 'with --out: write over what was changed there since')
    .option('--json', 'one JSON object a group, one a line, in SI')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
