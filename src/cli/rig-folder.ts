import { countingChecks, countingRuns, standingsOf } from '../rig/index.ts';
import { readExperimentFile } from '../store/index.ts';
import type { RigOptions } from './rig-command.ts';
import { keepInBooks, refuseStray } from './rig-keep.ts';
import { presentHistory, presentRig } from './rig-present.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';

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
  const { checks, references, kept } = await keepInBooks(folder, file, options, now);
  const { stdout, stderr, environment } = surroundings;
  if (kept !== null) stderr.write(`emberline: kept as ${kept}\n`);
  const standings = standingsOf(file.experiment, countingChecks(checks), now);
  const ink = inkFor(stdout, environment);
  if (options.json) {
    const at = new Date(now).toISOString();
    stdout.write(`${JSON.stringify({ at, standings, ...checks, references })}\n`);
  } else {
    const lines = options.history
      ? presentHistory(file.path, checks, references, ink)
      : presentRig(file.path, standings, countingRuns(references), ink);
    stdout.write(`${lines.join('\n')}\n`);
  }
  return standings.some(({ state }) => state === 'outside' || state === 'stale') ? 1 : 0;
}
