import type { Command } from 'commander';

const examples = `
Examples:
  A folder for next term, with an experiment.yaml to change:
    emberline new courses/spring

  Into the folder where you are:
    emberline new .

The example describes an invented rig: brass and aluminium spheres, a type T
junction, and litres per minute at 0 degC and 101.325 kPa. Beside it stands
experiment.schema.json, by which many editors complete and check the file while
you write. Nothing is written over.

Exit status:
  0  done
  2  could not be done`;

/** Registers the command `new`. */
export function newCommand(program: Command, action: (folder: string) => Promise<void>): void {
  program
    .command('new')
    .summary('start an experiment folder with a commented example')
    .description('Writes a commented experiment.yaml, to be changed to your rig, and its schema for editors.')
    .argument('<folder>', 'folder for the experiment; made if it does not exist')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
