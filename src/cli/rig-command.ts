import type { Command } from 'commander';

/** Options of `rig`, as they are typed. */
export interface RigOptions {
  readonly add?: string;
  readonly withdraw?: string;
  readonly value?: string;
  readonly bench?: string;
  readonly of?: string;
  readonly who?: string;
  readonly note?: string;
  readonly why?: string;
  readonly at?: string;
  readonly history?: boolean;
  readonly json?: boolean;
}

const examples = `
Examples:
  How the rigs stand now:
    emberline rig courses/thornwick

  Add a check of a bench:
    emberline rig . --add zero --value "1.4 mV" --bench bench-2 --who IK

  Add a check of a body, made on paper an hour ago:
    emberline rig . --add diameter --of brass-12 --value "12.01 mm" --who IK \\
      --at 2026-03-02T13:40:00+00:00 --note "mean of three directions"

  Take a check back that was typed wrongly:
    emberline rig . --withdraw c7 --why "that was bench-3" --who IK

  All checks that were ever made, and for a program:
    emberline rig . --history
    emberline rig . --json

Kinds of checks: zero (V at the logger, input shorted), gain, ice-point, jet-temperature,
flow (of a flow), supply-pressure, diameter and mass (of a body).

Limits come from the values and standard uncertainties of experiment.yaml, from common
practice where it states none, and from earlier checks where it says nothing at all. A
check of zero, ice point, jet, flow or supply is good for a session, of the gain for a
term, of a body for a year. What failed or is too old is said with every later trial.

Compressed air, hot metal and mains: each check says what to take care of. Local rules
come first.

Exit status:
  0  nothing failed and nothing is stale
  1  a check failed, or is too old
  2  something could not be done`;

/** Registers the command `rig`. */
export function rigCommand(
  program: Command,
  action: (folder: string, options: RigOptions) => Promise<void>,
): void {
  program
    .command('rig')
    .summary('keep checks of the rigs, and say which failed or are too old')
    .description(
      'Shows how the rigs of an experiment stand by the checks that were made of them, and adds checks: zero, gain, ice point, jet temperature, flow, supply pressure, diameter, mass.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--add <kind>', 'add a check of this kind')
    .option('--value <quantity>', 'what it showed, with its unit, as "1.4 mV" or "6.0 bar(g)"')
    .option('--bench <code>', 'bench that was checked')
    .option('--of <code>', 'body or flow that was checked')
    .option('--who <name>', 'who made the check, or takes it back')
    .option('--note <text>', 'what else is worth keeping')
    .option('--at <moment>', 'when it was made, as 2026-03-02T13:40:00+00:00; now where left out')
    .option('--withdraw <id>', 'take a check back; give --who and --why')
    .option('--why <text>', 'why it is taken back')
    .option('--history', 'list all checks that were ever made')
    .option('--json', 'one JSON object, in SI')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
