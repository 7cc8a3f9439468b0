import { isAbsolute, join } from 'node:path';
import type { Experiment } from '../experiment/index.ts';
import type { RigCheck } from '../rig/index.ts';
import { traitsOf } from '../store/index.ts';
import type { LongWork } from './asked-analysis.ts';
import { outcomeFrom } from './essence.ts';
import { FolderEntry } from './folder-entry.ts';
import { inTurns } from './in-turns.ts';
import { KeptBook } from './kept-book.ts';
import { type Analyst, analyzeForList } from './list-work.ts';
import type { FoundFolder, PlacedRecording } from './measure.ts';
import { outcomeOfEntry } from './outcome-of-entry.ts';
import { type MeasuredFolder, type Outcome, poolOutcomes, unreadOutcome } from './pool.ts';
import { checksThatCount, outcomeWithRig, rigRemarksOf } from './rig-of-recording.ts';
import { sensorSettings } from './sensor.ts';
import { experimentDecaySettings } from './settings.ts';

/**
 * Analyzes the recordings of an experiment folder, with what people decided about them. What is kept of a recording is
 * taken where nothing has changed, and what is analyzed is kept as it is done; of files from elsewhere nothing is kept.
 *
 * @param found by `findRecordings`
 * @throws the reason of the signal where the work is broken off
 */
export async function measureFolder(
  folder: string,
  experiment: Experiment,
  found: FoundFolder,
  { crew, tell, signal }: LongWork = {},
): Promise<MeasuredFolder> {
  const rigChecks = await checksThatCount(folder);
  const kept = await KeptBook.open(folder);
  const outcomes = new Map<PlacedRecording, Outcome>();
  const analyst = crew?.analyst ?? analyzeForList;
  try {
    await inTurns(found.placed, crew?.hands ?? 1, async (one) => {
      signal?.throwIfAborted();
      const work = isElsewhere(one.path) ? measuredElsewhere : measured;
      const outcome = await work({ folder, experiment, rigChecks, kept, analyst }, one).catch(
        (error: unknown) => {
          if (!(error instanceof Error)) throw error;
          return unreadOutcome(one.path, one.condition, error);
        },
      );
      outcomes.set(one, outcome);
      tell?.(outcomes.size, found.placed.length);
    });
  } finally {
    await kept.settle();
  }
  return poolOutcomes(
    found.placed.flatMap((one) => outcomes.get(one) ?? []),
    found.asked,
  );
}

/** What recordings of a folder are measured with. */
interface MeasuringTools {
  readonly folder: string;
  readonly experiment: Experiment;
  readonly rigChecks: readonly RigCheck[];
  readonly kept: KeptBook;
  readonly analyst: Analyst;
}

async function measured(
  { folder, experiment, rigChecks, kept, analyst }: MeasuringTools,
  placed: PlacedRecording,
): Promise<Outcome> {
  const entry = new FolderEntry(folder, experiment, placed, { rigChecks, kept });
  await entry.look();
  await entry.analyze(analyst);
  return outcomeOfEntry(experiment, entry);
}

/** Of a file outside of the folder, about which nothing can be decided here. */
async function measuredElsewhere(
  { folder, experiment, rigChecks, analyst }: MeasuringTools,
  { path, place, condition }: PlacedRecording,
): Promise<Outcome> {
  const file = isAbsolute(path) ? path : join(folder, path);
  const chain = sensorSettings(experiment);
  const settings = experimentDecaySettings(experiment, condition.body);
  const { sha256, result } = await analyst({ file, read: {}, chain, settings });
  if (result.kind === 'unreadable') return unreadOutcome(path, condition, new Error(result.message));
  const { essence } = result;
  const outcome = outcomeFrom(experiment, path, condition, sha256 ?? '', essence);
  const { startedAt, duration } = essence;
  const times = { startedAt, duration, modified: (await traitsOf(file))?.modified ?? null };
  return outcomeWithRig(outcome, rigRemarksOf(experiment, rigChecks, { place, condition }, times));
}

function isElsewhere(path: string): boolean {
  return isAbsolute(path) || path.startsWith('../');
}
