import { courseTerms, rigTerms } from '../analysis/index.ts';
import { type RigChart, rigCharts, rigSeries } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { codesOf, countingChecks, standingsOf } from '../rig/index.ts';
import { keptRecordings, readReferenceRuns, readRigChecks, termOf } from '../store/index.ts';
import type { RigChartView, RigView } from './contract/index.ts';

/** Files that are offered as reference runs at most. */
const mostCandidates = 500;

/**
 * How the rigs of a folder stand, and what changed over this and earlier terms.
 *
 * @param now ms since 1970 (UTC)
 * @throws RigCheckError where a book cannot be read
 */
export async function rigViewOf(folder: string, experiment: Experiment, now: number): Promise<RigView> {
  const book = await readRigChecks(folder);
  const references = await readReferenceRuns(folder);
  const terms = await courseTerms(folder, experiment);
  const charts = rigCharts(rigSeries(await rigTerms(terms)));
  const kept = new Set(references.runs.map(({ recording }) => recording));
  const { paths } = await keptRecordings(folder, 'reference');
  return {
    at: new Date(now).toISOString(),
    benches: [...experiment.benches],
    bodies: [...codesOf(experiment, 'body')],
    flows: [...codesOf(experiment, 'flow')],
    standings: [...standingsOf(experiment, countingChecks(book), now)],
    checks: [...book.checks],
    withdrawn: [...book.withdrawn],
    references: references.runs.map(
      ({ sha256: _sha256, standardUncertainty: _u, interval: [low, high], ...run }) => {
        return { ...run, interval: [low, high] };
      },
    ),
    referencesWithdrawn: [...references.withdrawn],
    candidates: paths.filter((path) => !kept.has(path)).slice(0, mostCandidates),
    term: termOf(folder, experiment),
    charts: charts.map(statedChart),
    missingTerms: [...terms.missing],
  };
}

function statedChart({ points, averages, outside, averagesOutside, ...chart }: RigChart): RigChartView {
  return {
    ...chart,
    points: [...points],
    averages: averages === null ? null : [...averages],
    outside: [...outside],
    averagesOutside: [...averagesOutside],
  };
}
