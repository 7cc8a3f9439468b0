import { type Command, Option } from 'commander';

/** Options of `room`, as they are typed. */
export interface RoomCommandOptions {
  readonly passphrase?: boolean;
  readonly passphraseFile?: string;
  readonly newCode?: readonly string[];
  readonly json?: boolean;
}

const examples = `
Examples:
  The codes to hand out:
    emberline room courses/thornwick

  New codes for two groups whose slips went astray, and for the assistants:
    emberline room courses/thornwick --new-code A1 B2 assistant

  Another passphrase for the instructor:
    emberline room courses/thornwick --passphrase

Codes are in the folder as they are, in .room, which only its owner can read; of
the passphrase only what checks it. Whoever signed in by an old code stays in until
the server is started again; the page makes new codes at once.

Exit status:
  0  done
  2  could not be done`;

/** Registers the command `room`. */
export function roomCommand(
  program: Command,
  action: (folder: string, options: RoomCommandOptions) => Promise<void>,
): void {
  program
    .command('room')
    .summary('codes by which groups, assistants and a display come into the room')
    .description(
      'Shows the codes by which groups, assistants and a display sign in where emberline serve --room is running, and makes new ones.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .addOption(new Option('--passphrase', 'ask for a new passphrase of the instructor'))
    .addOption(
      new Option('--passphrase-file <file>', 'set it from the first line of a file').conflicts('passphrase'),
    )
    .option('--new-code <who...>', 'new codes for groups, assistant or display')
    .option('--json', 'the codes as JSON')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
