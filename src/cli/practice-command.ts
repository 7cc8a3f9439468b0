import type { Command } from 'commander';

/** Options of `practice`, as they are typed. */
export interface PracticeCommandOptions {
  readonly out?: string;
  readonly exercise?: boolean;
  readonly groups?: string;
  readonly repeats?: string;
  readonly conditions?: string;
  readonly rate?: string;
  readonly date?: string;
  readonly fault?: readonly string[];
  readonly faults?: string;
  readonly seed?: string;
  readonly key?: string;
  readonly passphraseFile?: string;
  /** True where the key is to be found by the folder. */
  readonly answers?: string | true;
  readonly json?: boolean;
}

const examples = `
Examples:
  A clean set to rehearse with, then analyzed as a class would be:
    emberline practice courses/thornwick
    emberline compare courses/thornwick/practice

  Every group its own folder with a task, a fifth of the recordings with a fault:
    emberline practice courses/thornwick --exercise --groups 12 --faults 20%

  Two certain faults, one of them in group A2, for training assistants:
    emberline practice courses/thornwick --out training --fault jet-off \\
      --fault clipped:A2

  The answers:
    emberline practice --answers courses/thornwick/practice-answers/key.json

Where things stand: recordings and a copy of experiment.yaml in
<folder>/practice, named as the experiment file names recordings where that
tells them apart, else recordings/{group}/{body}_{flow}_{repeat}. With
--exercise each group has a folder in <folder>/exercise, with its recordings and
task.md. The key goes beside that folder, never into it: hand out the one, keep
the other. It is packed so that nobody reads it by accident; with a passphrase
it is encrypted (AES-256-GCM, scrypt). The passphrase comes from
--passphrase-file or the variable EMBERLINE_PASSPHRASE. Nothing is written over.

Beside the recordings, submissions/ holds what each group hands in about those
without a fault: right, or with one or two slips that the key names.

The true values come from the seed alone, which stands in the key and nowhere
among the recordings. The same seed, file and options make the same bytes on any
machine.

Faults, at most one a recording:
  baseline-short       heated after 10 to 40 % of the baseline that is asked for
  zero-drifted         the zero moved by 5 to 10 % of the step
  jet-off              cooled in still air
  jet-changed          heat transfer fell to 30 to 55 %, or rose to 1.8 to 2.5 times
  heated-twice         a first heating was broken off, a second followed
  over-limit           hotter than the limit by 8 to 20 % of the step up to it
  stopped-early        stopped at an error fraction of 0.3 to 0.65
  clipped              the range of the logger ends at 50 to 80 % of the step
  wrong-thermocouple   another type in the logger, or of the junction where volts
                       are logged
  wrong-rate           the file states a tenth, half, twice or ten times the rate
  melted-adhesive      the junction lags by 10 to 25 % of the time constant
  spreadsheet-resaved  a spreadsheet saved the file: decimal commas, few decimals
  swapped              two recordings of a group have each other's names
  same-file            two groups hand in the same file

Exit status:
  0  done
  2  could not be done; nothing was left half made`;

/** Registers the command `practice`. */
export function practiceCommand(
  program: Command,
  action: (folder: string | undefined, options: PracticeCommandOptions) => Promise<void>,
): void {
  const command = program
    .command('practice')
    .summary('simulate recordings with a known truth, and faults to find')
    .description(
      'Simulates the recordings of an experiment: every condition, group and repeat, each with parameters of its own, as different loggers would write them; the truth goes into a separate key.',
    )
    .argument('[folder]', 'folder that holds experiment.yaml')
    .addHelpText('after', examples)
    .exitOverride();

  command.optionsGroup('What to make:');
  command
    .option('--exercise', 'a folder for each group with its recordings and a task, ready to hand out')
    .option('--groups <number>', 'how many groups; else those of the file, or one a bench and section')
    .option('--repeats <number>', 'trials of each condition; else as the file says')
    .option(
      '--conditions <list>',
      'only these, as "brass-12 at 120, aluminium-12"; a body alone is in all its flows',
    )
    .option('--rate <rate>', 'sampling rate, as "1 kHz"; else that of the file')
    .option('--date <day>', 'day of the first session, as 2026-03-02', '2026-03-02')
    .option(
      '--fault <name[:group]>',
      'plant this fault in a recording, of that group; again for more',
      (name: string, others: readonly string[] | undefined) => [...(others ?? []), name],
    )
    .option('--faults <share>', 'part of the recordings that get a fault by chance, as 20%');

  command.optionsGroup('Where it goes:');
  command
    .option('--out <folder>', 'folder to hand out; must not exist, or be empty')
    .option('--key <file>', 'where the key goes; never inside that folder')
    .option('--passphrase-file <file>', 'encrypt the key, or open it, with the first line of a file')
    .option('--seed <text>', 'make the same set again; else a seed that nobody can guess');

  command.optionsGroup('The key:');
  command
    .option('--answers [key]', 'show the key: a file, or the one of a folder')
    .option('--json', 'one JSON object, in SI; temperatures in degrees Celsius')
    .action(action);
}
