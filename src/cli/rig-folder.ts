import { conditionsOf, type Experiment, predictCondition } from '../experiment/index.ts';
import { countingChecks, countingRuns, standingsOf } from '../rig/index.ts';
import { type ReadExperiment, readExperimentFile } from '../store/index.ts';
import { presentCharts, presentCorrelation } from './rig-charts-present.ts';
import type { RigOptions } from './rig-command.ts';
import { keepInBooks, refuseStray } from './rig-keep.ts';
import { chartsOverTerms, rigOutlook } from './rig-outlook.ts';
import { presentHistory, presentRig } from './rig-present.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';

/**
 * The command `rig`.
 *
 * @param now ms since 1970 (UTC)
 * @returns 0, or 1 where a check failed or is too old, or no correlation can be made
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
  if (options.correlation) return tellCorrelation(folder, file, options, surroundings);
  const { checks, references, kept } = await keepInBooks(folder, file, options, now);
  const { stdout, stderr, environment } = surroundings;
  if (kept !== null) stderr.write(`emberline: kept as ${kept}\n`);
  const standings = standingsOf(file.experiment, countingChecks(checks), now);
  const charts = options.history ? await chartsOverTerms(folder, file.experiment, surroundings) : null;
  const ink = inkFor(stdout, environment);
  if (options.json) {
    const at = new Date(now).toISOString();
    const more = charts === null ? {} : { charts };
    stdout.write(`${JSON.stringify({ at, standings, ...checks, references, ...more })}\n`);
  } else {
    const lines =
      charts === null
        ? presentRig(file.path, standings, countingRuns(references), ink)
        : [...presentHistory(file.path, checks, references, ink), ...presentCharts(charts, ink)];
    stdout.write(`${lines.join('\n')}\n`);
  }
  return standings.some(({ state }) => state === 'outside' || state === 'stale') ? 1 : 0;
}

async function tellCorrelation(
  folder: string,
  { path, experiment }: ReadExperiment,
  { form, json }: RigOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { correlation } = await rigOutlook(folder, experiment, surroundings, form);
  const { stdout, environment } = surroundings;
  const theory = correlation.ok ? theoryAt(experiment, correlation.reynoldsMiddle) : null;
  const lines = presentCorrelation(path, correlation, theory, inkFor(stdout, environment));
  const { at: _at, ...values } = { at: null, ...correlation };
  stdout.write(json ? `${JSON.stringify({ ...values, theory })}\n` : `${lines.join('\n')}\n`);
  return correlation.ok ? 0 : 1;
}

/**
 * Nu that theory expects at a Reynolds number, between the two nearest conditions on a line of logarithms.
 *
 * @returns null where fewer than two spheres in moving air can be predicted
 */
function theoryAt(experiment: Experiment, reynolds: number): number | null {
  const points = conditionsOf(experiment)
    .measured.flatMap((one) => {
      const predicted = predictCondition(experiment, one, 0);
      const wire = experiment.bodies[one.body]?.shape === 'wire';
      if (!predicted.ok || wire || !(predicted.prediction.reynolds > 0)) return [];
      const { reynolds: re, nusselt } = predicted.prediction;
      return [{ x: Math.log(re), y: Math.log(nusselt) }];
    })
    .toSorted((a, b) => a.x - b.x);
  const x = Math.log(reynolds);
  const above = points.find((one) => one.x >= x);
  const below = points.findLast((one) => one.x <= x);
  if (above === undefined || below === undefined) return null;
  if (above.x === below.x) return Math.exp(below.y);
  return Math.exp(below.y + ((x - below.x) / (above.x - below.x)) * (above.y - below.y));
}
