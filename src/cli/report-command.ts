import { type Command, Option } from 'commander';

/** Options of `report`, as they are typed. */
export interface ReportCommandOptions {
  readonly trial?: string;
  readonly worked?: string;
  readonly group?: string;
  readonly groups?: boolean;
  readonly pages?: boolean;
  readonly class?: boolean;
  readonly section?: string;
  readonly earlier?: readonly string[];
  readonly names?: string;
  readonly benchSheet?: boolean;
  readonly briefing?: boolean;
  readonly example?: string;
  readonly html?: boolean;
  readonly paper?: 'a4' | 'us-letter';
  readonly figures?: '1' | '2';
  readonly to?: string;
  readonly force?: boolean;
}

const examples = `
Examples:
  One recording, on paper:
    emberline report courses/thornwick --trial recordings/A/A1/brass-12_120-1.txt

  All of a group, each trial in full behind the summary:
    emberline report courses/thornwick --group A1 --pages --to A1.pdf
    emberline report courses/thornwick --groups --to reports/

  The class, or one section of it, for whoever runs the course:
    emberline report courses/thornwick --class
    emberline report courses/thornwick --class --section A --html

  A page for the bench, and what is told to a section before it starts, as slides:
    emberline report courses/thornwick --bench-sheet
    emberline report courses/thornwick --briefing --html

Paper and figures of uncertainties are those of report in experiment.yaml, unless an
option says otherwise. PDF is tagged (PDF/UA-1), HTML is one file that opens without anything
else. The same recordings, decisions and experiment file give the same bytes. A file that
is there is left alone without --force.

Groups appear by their codes. Names go into the document of a class only with --names, a
CSV file of code and name, which is best kept apart from the course.

Exit status:
  0  done
  2  something could not be done`;

/** Registers the command `report`. */
export function reportCommand(
  program: Command,
  action: (folder: string, options: ReportCommandOptions) => Promise<void>,
): void {
  program
    .command('report')
    .summary('write a document: trial, group, class, worked analysis, bench sheet, briefing')
    .description(
      'Writes one document of an experiment folder as PDF, or as one HTML file; a briefing as HTML is shown as slides.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--trial <recording>', 'one recording: figure, estimates, budget, remarks, decisions')
    .option('--worked <recording>', 'one recording: every step with its formula and numbers')
    .option('--group <code>', 'all trials of a group, held against theory')
    .option('--groups', 'the same for every group, a file each; --to is then a folder')
    .option('--pages', 'with --group or --groups: each trial in full behind the summary')
    .option('--class', 'the class: who should look again, spread, causes, rigs')
    .option('--section <code>', 'with --class: one section alone')
    .option(
      '--earlier <folder>',
      'with --class: folder of an earlier term; may stand several times',
      (folder: string, before: readonly string[] = []) => [...before, folder],
    )
    .option('--names <file>', 'with --class: CSV of code and name, put beside the codes')
    .option('--bench-sheet', 'one page for the bench, from the plan')
    .option('--briefing', 'what a section is told before it starts')
    .option(
      '--example <recording>',
      'with --briefing: the recording shown as a good one; else the best of the folder, or a simulated one',
    )
    .addOption(new Option('--pdf', 'a PDF, which is what is written without --html').conflicts('html'))
    .option('--html', 'one HTML file in place of PDF')
    .addOption(
      new Option('--paper <size>', 'paper of a PDF; else as experiment.yaml says').choices([
        'a4',
        'us-letter',
      ]),
    )
    .addOption(
      new Option(
        '--figures <number>',
        'significant figures of uncertainties; else as experiment.yaml says',
      ).choices(['1', '2']),
    )
    .option('--to <file>', 'where to write; else a name of its own in this folder')
    .option('--force', 'write over a file that is there')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
