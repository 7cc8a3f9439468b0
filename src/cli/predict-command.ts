import type { Command } from 'commander';

/** Options of `predict`, as they are typed. */
export interface PredictCommandOptions {
  readonly condition?: readonly string[];
  readonly json?: boolean;
}

const examples = `
Examples:
  What to expect of every body in every flow:
    emberline predict courses/thornwick

  Two conditions, and a body in all of its flows:
    emberline predict . --condition brass-12@120 brass-12@60 aluminium-20

  For a program: one JSON object a condition, one a line, in SI; temperatures in K:
    emberline predict . --json > predicted.jsonl

A condition is written body@flow or body_flow, with the codes of the experiment file.

Exit status:
  0  done
  2  a condition could not be predicted; the others are there`;

/** Registers the command `predict`. */
export function predictCommand(
  program: Command,
  action: (folder: string, options: PredictCommandOptions) => Promise<void>,
): void {
  program
    .command('predict')
    .summary('say which time constant to expect, and what that is worth')
    .description(
      'Predicts the time constant of every condition of an experiment file, from the reading of the flow meter to the heat transfer at the body, with its uncertainty and what that comes from.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option(
      '--condition <condition...>',
      'only these, as brass-12@120; a body alone stands for all its flows',
    )
    .option('--json', 'one JSON object a condition, one a line, in SI; temperatures in K')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
