import type { Command } from 'commander';

/** Options of `release`, as they are typed. */
export interface ReleaseOptions {
  readonly section?: string;
  readonly all?: boolean;
  readonly withdraw?: boolean;
  readonly who?: string;
  readonly json?: boolean;
}

const examples = `
Examples:
  Which sections see their results, and since when:
    emberline release courses/thornwick

  Let the groups of a section see theirs; take that back:
    emberline release courses/thornwick --section A --who IK
    emberline release courses/thornwick --section A --withdraw --who IK

  In a class without sections, or for the groups that are in none:
    emberline release courses/thornwick --all --who IK

Until their section is released, groups see whether a recording can be used, and no time
constant. What was released and taken back stays in releases.json, and in the trail.

Exit status:
  0  done
  2  something could not be done`;

/** Registers the command `release`. */
export function releaseCommand(
  program: Command,
  action: (folder: string, options: ReleaseOptions) => Promise<void>,
): void {
  program
    .command('release')
    .summary('let groups see their results, section by section')
    .description(
      'Lists which sections of a class see their results, releases those of a section to its groups, and takes that back.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--section <code>', 'section whose results are released')
    .option('--all', 'the groups that are in no section')
    .option('--withdraw', 'take the release back')
    .option('--who <name>', 'who releases them')
    .option('--json', 'one JSON object')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
