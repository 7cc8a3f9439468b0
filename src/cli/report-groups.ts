import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { makeGroupReports } from '../report/index.ts';
import { longWork } from './long-work.ts';
import { writeNewFile } from './new-file.ts';
import type { ReportCommandOptions } from './report-command.ts';
import { type ExitStatus, inkFor, printable, type Surroundings, startProgress } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The reports of all groups, a file each.
 *
 * @throws OptionError where no recording belongs to a group, or a file is there already: then nothing is written
 */
export async function reportGroups(
  folder: string,
  options: ReportCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const to = options.to ?? '.';
  const order = {
    pages: options.pages === true,
    format: options.html === true ? ('html' as const) : ('pdf' as const),
    paper: options.paper ?? null,
    figures: options.figures === undefined ? null : options.figures === '1' ? (1 as const) : (2 as const),
  };
  const count = await longWork(surroundings, (work) =>
    makeGroupReports(folder, order, work, async (names, reports) => {
      if (names.length === 0) {
        throw new OptionError('no recording belongs to a group: see recordings in experiment.yaml');
      }
      const paths = names.map((name) => join(to, name));
      const there = options.force === true ? undefined : paths.find((path) => existsSync(path));
      if (there !== undefined) {
        throw new OptionError(
          `${there} is there already: give another folder with --to, or --force to write over it`,
        );
      }
      await mkdir(to, { recursive: true });
      const progress = await startProgress(surroundings, names.length, 'writing reports');
      try {
        let done = 0;
        for await (const { name, bytes } of reports) {
          await writeNewFile(join(to, name), bytes, options.force === true);
          done += 1;
          progress.update(done);
        }
      } finally {
        progress.stop();
      }
      return names.length;
    }),
  );
  const { stdout, environment } = surroundings;
  const groups = count === 1 ? '1 group' : `${count} groups`;
  stdout.write(`${groups}: ${inkFor(stdout, environment).strong(printable(to))}\n`);
  return 0;
}
