import type { Command } from 'commander';

/** Options of `archive`, as they are typed. */
export interface ArchiveOptions {
  readonly out?: string;
  readonly check?: boolean;
  readonly remove?: boolean;
  readonly evenRepaired?: boolean;
  readonly yes?: boolean;
  readonly who?: string;
  readonly json?: boolean;
}

const examples = `
Examples:
  At the end of a term, into the folder archive/ of the experiment:
    emberline archive courses/thornwick

  Then remove the texts, of which the samples are kept; it asks before it does:
    emberline archive courses/thornwick --remove

  For a cluster, a copy elsewhere:
    emberline archive courses/thornwick --out /data/lab/thornwick

  Hold an archive against its texts, or where those are gone against what it was:
    emberline archive courses/thornwick --check

Each text becomes a Parquet file of its samples, in folders by term, section and group.
Before it counts, the file is read back from the disk and every sample of it is held
against the text, bit for bit. What was archived before and has not changed is passed by,
so that the command can be broken off and begun again. A text that was written less than
half a minute ago may still grow: it is left for the next time.

Every command reads an archived recording under its old path, with the same result.
Decisions go on to count. What a text says beyond its samples (its spacing, comments among
the numbers, lines that were left out) is not in the archive, and the bytes of a text cannot
be made again from it. So --remove leaves texts alone of which lines were left out or times
straightened, and those with several channels, unless --even-repaired is given. Keep a
backup of the texts if anybody may ask for them.

Each text that is archived, and each that is removed, has a line in the trail of the folder.

docs/archive.md has the columns, and SQL to start from.

Exit status:
  0  everything is archived, or as it was
  1  a text could not be archived or removed, or --check found something
  2  something could not be done`;

/** Registers the command `archive`. */
export function archiveCommand(
  program: Command,
  action: (folder: string, options: ArchiveOptions) => Promise<void>,
): void {
  program
    .command('archive')
    .summary('keep recordings as Parquet, held against their texts sample by sample')
    .description(
      'Archives the recordings of an experiment folder as Parquet files, partitioned by term, section and group, each held against its text sample by sample.',
    )
    .argument('<folder>', 'folder that holds experiment.yaml')
    .option('--out <folder>', 'where to; the folder archive/ of the experiment where left out')
    .option('--check', 'archive nothing; read what is archived to its end and hold it against the texts')
    .option('--remove', 'remove texts that are archived, after a question')
    .option('--even-repaired', 'with --remove: those too that say more than their samples')
    .option('--yes', 'with --remove: without a question')
    .option('--who <name>', 'who does it, for the trail of the folder')
    .option('--json', 'one JSON object')
    .addHelpText('after', examples)
    .exitOverride()
    .action(action);
}
