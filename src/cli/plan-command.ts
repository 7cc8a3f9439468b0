import type { Command } from 'commander';

/** Options of `plan`, as they are typed. */
export interface PlanCommandOptions {
  readonly measured?: boolean;
  readonly rig?: boolean;
  readonly ics?: string;
  readonly start?: string;
  readonly json?: boolean;
}

const examples = `
Examples:
  The session of a course, by theory:
    emberline plan courses/thornwick

  With the time constants that recordings in the folder showed in place of theory:
    emberline plan courses/thornwick --measured

  With the rig's own correlation, from its results of this and earlier terms, where it is surer:
    emberline plan . --rig

  The same as a calendar file, in local time:
    emberline plan . --ics monday.ics --start "2026-03-02 14:00"

  For a program: one JSON object; times in s from the first minute of the session:
    emberline plan . --json

The plan is for one bench that measures every condition of the experiment file: which time
each takes, in which order, what does not fit and what would make it fit, how well each time
constant can be known, and how to set the logger.

Exit status:
  0  everything fits, or the file states no length of the session
  1  not everything fits
  2  something could not be planned`;

/** Registers the command `plan`. */
export function planCommand(
  program: Command,
  action: (folder: string, options: PlanCommandOptions) => Promise<void>,
): void {
  program
    .command('plan')
    .summary('lay out the session: times, order, what fits, how to set the logger')
    .description(
      'Plans a session from an experiment file: heating and cooling times by prediction, run order and time line, what does not fit and its mends, the uncertainty to expect, and settings of the logger.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--measured', 'analyze the recordings in the folder and plan with what they show')
    .option('--rig', "plan by the rig's own correlation where it is surer than theory")
    .option('--ics <file>', 'write the time line as a calendar file too; needs --start')
    .option('--start <moment>', 'date and time of the first minute, as "2026-03-02 14:00"')
    .option('--json', 'one JSON object, in SI; time constants and times in s')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
