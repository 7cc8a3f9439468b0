import { admitCheck, countingChecks, type RigBook, standingsOf } from '../rig/index.ts';
import {
  appendRigCheck,
  type ReadExperiment,
  readExperimentFile,
  readRigChecks,
  withdrawRigCheck,
} from '../store/index.ts';
import type { RigOptions } from './rig-command.ts';
import { presentHistory, presentRig } from './rig-present.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `rig`.
 *
 * @param now ms since 1970 (UTC)
 * @returns 0, or 1 where a check failed or is too old
 * @throws Error where the experiment file, the checks or an option cannot be used
 */
export async function rigFolder(
  folder: string,
  options: RigOptions,
  surroundings: Surroundings,
  now: number,
): Promise<ExitStatus> {
  refuseStray(options);
  const file = await readExperimentFile(folder);
  const book = await bookAfter(folder, file, options, now);
  if (options.add !== undefined) {
    surroundings.stderr.write(`emberline: kept as ${book.checks.at(-1)?.id}\n`);
  }
  const standings = standingsOf(file.experiment, countingChecks(book), now);
  const { stdout, environment } = surroundings;
  const ink = inkFor(stdout, environment);
  stdout.write(
    options.json
      ? `${JSON.stringify({ at: new Date(now).toISOString(), standings, ...book })}\n`
      : `${(options.history ? presentHistory(file.path, book, ink) : presentRig(file.path, standings, ink)).join('\n')}\n`,
  );
  return standings.some(({ state }) => state === 'outside' || state === 'stale') ? 1 : 0;
}

/** Options that belong to adding or taking back say nothing by themselves: the check would be lost in silence. */
function refuseStray({ add, withdraw, value, bench, of, who, note, at, why }: RigOptions): void {
  if (add !== undefined && withdraw !== undefined) {
    throw new OptionError('--add and --withdraw: do one after the other');
  }
  const adding = [
    ['--value', value],
    ['--bench', bench],
    ['--of', of],
    ['--note', note],
    ['--at', at],
  ] as const;
  const stray = adding.find(([, given]) => given !== undefined)?.[0];
  if (add === undefined && stray !== undefined) {
    throw new OptionError(`${stray} belongs to a new check: give --add <kind> as well`);
  }
  if (withdraw === undefined && why !== undefined) {
    throw new OptionError('--why says why a check is taken back: give --withdraw <id> as well');
  }
  if (who !== undefined && add === undefined && withdraw === undefined) {
    throw new OptionError('--who belongs to --add or --withdraw: give one of them');
  }
}

async function bookAfter(
  folder: string,
  { experiment }: ReadExperiment,
  options: RigOptions,
  now: number,
): Promise<RigBook> {
  const { add, withdraw } = options;
  if (withdraw !== undefined) {
    return withdrawRigCheck(folder, {
      id: withdraw,
      at: new Date(now).toISOString(),
      who: given('--who', options.who),
      why: given('--why', options.why),
    });
  }
  if (add === undefined) return readRigChecks(folder);
  const admitted = admitCheck(
    experiment,
    {
      kind: add,
      value: given('--value', options.value),
      bench: options.bench ?? null,
      subject: options.of ?? null,
      who: given('--who', options.who),
      note: options.note ?? '',
      at: options.at ?? null,
    },
    now,
  );
  if (!admitted.ok) throw new OptionError(`${admitted.message} ${admitted.mend}`);
  return appendRigCheck(folder, admitted.check);
}

function given(option: string, text: string | undefined): string {
  if (text !== undefined && text.trim() !== '') return text;
  throw new OptionError(`${option} is missing; emberline rig --help shows how a check is written`);
}
