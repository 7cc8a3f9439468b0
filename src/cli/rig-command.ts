import { type Command, Option } from 'commander';

/** Options of `rig`, as they are typed. */
export interface RigOptions {
  readonly add?: string;
  readonly reference?: string;
  readonly withdraw?: string;
  readonly value?: string;
  readonly bench?: string;
  readonly of?: string;
  readonly body?: string;
  readonly flow?: string;
  readonly term?: string;
  readonly who?: string;
  readonly note?: string;
  readonly why?: string;
  readonly at?: string;
  readonly history?: boolean;
  readonly correlation?: boolean;
  readonly form?: 'power' | 'power-above-2';
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

  Keep an instructor's own trial as the reference run of a bench:
    emberline rig . --reference reference/bench-2/brass-12_120.txt --bench bench-2 \\
      --body brass-12 --flow 120 --who IK

  Take a check or a reference run back that was of something else:
    emberline rig . --withdraw c7 --why "that was bench-3" --who IK

  All that was ever kept, and what changed over the terms; the same for a program:
    emberline rig . --history
    emberline rig . --history --json

  The rig's own correlation of Nu and Re, from its results of this and earlier terms:
    emberline rig . --correlation

Kinds of checks: zero (V at the logger, input shorted), gain, ice-point, jet-temperature,
flow (of a flow), supply-pressure, diameter and mass (of a body).

Limits come from the values and standard uncertainties of experiment.yaml, from common
practice where it states none, and from earlier checks where it says nothing at all. A
check of zero, ice point, jet, flow or supply is good for a session, of the gain for a
term, of a body for a year. What failed or is too old is said with every later trial.

A reference run is an instructor's own trial. Keep its recording in the folder, such as
below reference/, where the pattern of recordings does not take it for a group's. What it
showed is what later trials of the bench are held against while they are recorded.

Over the terms, zero, gain, ice point, jet temperature and reference runs of each bench are
followed on control charts: limits from six values on, provisional below eighteen; a change
is named as a step, a drift or a change of spread, with its date. Earlier terms are those
that experiment.yaml names under earlier-terms.

The correlation is Nu = C Re^m, or Nu = 2 + a Re^n with --form power-above-2, with offsets
of benches and with what trials share. It holds between the Reynolds numbers that were
measured and nowhere else; emberline plan --rig plans by it where it is surer than theory.

Compressed air, hot metal and mains: each check says what to take care of. Local rules
come first.

Exit status:
  0  nothing failed and nothing is stale
  1  a check failed, or is too old; there is no correlation yet
  2  something could not be done`;

/** Registers the command `rig`. */
export function rigCommand(
  program: Command,
  action: (folder: string, options: RigOptions) => Promise<void>,
): void {
  program
    .command('rig')
    .summary('keep checks and reference runs of the rigs, and say what failed or is too old')
    .description(
      'Shows how the rigs of an experiment stand by the checks that were made of them, and adds checks (zero, gain, ice point, jet temperature, flow, supply pressure, diameter, mass) and reference runs.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--add <kind>', 'add a check of this kind')
    .option('--value <quantity>', 'what it showed, with its unit, as "1.4 mV" or "6.0 bar(g)"')
    .option('--bench <code>', 'bench that was checked, or that the reference run was made on')
    .option('--of <code>', 'body or flow that was checked')
    .option('--who <name>', 'who made the check or the run, or takes it back')
    .option('--reference <recording>', 'keep this recording as a reference run')
    .option('--body <code>', 'body of the reference run, where its path does not say it')
    .option('--flow <code>', 'flow of the reference run, where its path does not say it')
    .option('--term <name>', 'term of the reference run; that of the experiment file where left out')
    .option('--note <text>', 'what else is worth keeping')
    .option('--at <moment>', 'when it was made, as 2026-03-02T13:40:00+00:00; now where left out')
    .option('--withdraw <id>', 'take a check or reference run back; give --who and --why')
    .option('--why <text>', 'why it is taken back')
    .option('--history', 'list all that was ever kept, and what changed over the terms')
    .option('--correlation', "the rig's own correlation, from this and earlier terms")
    .addOption(new Option('--form <form>', 'form of the correlation').choices(['power', 'power-above-2']))
    .option('--json', 'one JSON object, in SI')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
