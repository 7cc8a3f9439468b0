import type { Command } from 'commander';

/** Options of `watch`, as they are typed. */
export interface WatchOptions {
  readonly plain?: boolean;
  readonly json?: boolean;
  readonly once?: boolean;
}

const examples = `
Examples:
  All benches of a session, drawn in place until q or Ctrl-C:
    emberline watch courses/thornwick

  A line for everything that happens, to be kept:
    emberline watch courses/thornwick --plain | tee monday.log

  How the benches stand now:
    emberline watch courses/thornwick --once

  For a program: one JSON object for each bench that changes, one a line; times in s,
  temperatures in degrees Celsius:
    emberline watch courses/thornwick --json

Recordings are read while loggers append to them, on this machine or on a shared disk, and
are never written to. The bench of a file is what its path says by the pattern of the
experiment file. A file is done when it no longer grows; its time constant is then that of
emberline analyze.

Hot air, hot metal and compressed air hurt people: what is said here does not replace the
rules of your house, which come first.

Exit status:
  0  ended, and no trial has to be repeated
  1  ended, but a trial has to be repeated or cannot be read
  2  the folder could not be watched`;

/** Registers the command `watch`. */
export function watchCommand(
  program: Command,
  action: (folder: string, options: WatchOptions) => Promise<void>,
): void {
  program
    .command('watch')
    .summary('watch all benches while they record: phase, time left, what to do, whom to walk to')
    .description(
      'Follows the recordings of an experiment folder while they grow, and says of each bench how far its trial has come, how long it will take, what is amiss, and whether to go on, stop or repeat.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--plain', 'a line for everything that happens; taken where no terminal is there')
    .option('--once', 'say how the benches stand now, and end')
    .option('--json', 'one JSON object for each bench that changes, one a line')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
