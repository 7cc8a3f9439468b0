import type { Command } from 'commander';

/** Options of `export`, as they are typed. */
export interface ExportCommandOptions {
  readonly to: string;
  readonly cooling?: string;
  readonly names?: string;
  readonly force?: boolean;
}

const examples = `
Examples:
  One row a trial, for a spreadsheet; the ending says the format (csv, json, parquet, xlsx):
    emberline export courses/thornwick --to results.xlsx

  All formats in a folder, with a datapackage.json that describes every column:
    emberline export courses/thornwick --to results/

  One cooling, thinned to fit a spreadsheet, with its regression in live formulas:
    emberline export courses/thornwick --cooling recordings/A/A1/brass-12_120-1.txt --to cooling.xlsx

Groups appear by their codes. Names go in only with --names, a CSV file of code and name,
which is best kept apart from the course. A file that is there is left alone without --force.

Exit status:
  0  done
  2  something could not be done`;

/** Registers the command `export`. */
export function exportCommand(
  program: Command,
  action: (folder: string, options: ExportCommandOptions) => Promise<void>,
): void {
  program
    .command('export')
    .summary('write results as CSV, JSON, Parquet or XLSX')
    .description('Writes the results of an experiment folder for other programs, one row a trial.')
    .argument('<folder>', 'folder that holds experiment.yaml')
    .requiredOption('--to <file or folder>', 'where to write; the ending says the format')
    .option('--cooling <recording>', 'the cooling of one recording, as .xlsx with live formulas or as .csv')
    .option('--names <file>', 'CSV of code and name, put beside the codes')
    .option('--force', 'write over what is there')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
