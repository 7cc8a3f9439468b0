import type { Command } from 'commander';

/** Options of `query`, as they are typed. */
export interface QueryOptions {
  readonly tables?: boolean;
  readonly format?: string;
  readonly rows?: string;
  readonly seconds?: string;
}

const examples = `
Examples:
  The median of each condition and term:
    emberline query courses/thornwick "SELECT term, body, flow, median(time_constant) AS tau,
      count(*) AS n FROM trials WHERE counts GROUP BY ALL ORDER BY ALL"

  Over folders that the experiment file does not name, as CSV:
    emberline query courses/2026 courses/2025 "FROM conditions" --format csv > conditions.csv

  Which tables there are, and what each column means:
    emberline query courses/thornwick --tables

The language is the SQL of DuckDB, in memory: one SELECT, which can read these tables and
nothing else: no files, no network, no changes. Beside the first folder, the earlier terms
that its experiment.yaml names are asked. Of other folders than the first only results that
are kept are taken. docs/query.md has more questions.

Exit status:
  0  answered
  1  answered, but cut at the most rows
  2  something could not be done`;

/** Registers the command `query`. */
export function queryCommand(
  program: Command,
  action: (words: readonly string[], options: QueryOptions) => Promise<void>,
): void {
  program
    .command('query')
    .summary('ask results, rig checks and decisions of this and earlier terms by SQL')
    .description('Answers a question in SQL over the results of one or more experiment folders.')
    .argument('<folder-and-question...>', 'folders that hold experiment.yaml, and the SELECT in quotes')
    .option('--tables', 'list the tables with their columns, units and meaning')
    .option('--format <format>', 'table, csv or json', 'table')
    .option('--rows <number>', 'most rows of the answer', '10000')
    .option('--seconds <number>', 'longest time for the answer', '30')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
