import { type Experiment, recordingPlace } from '../experiment/index.ts';
import { recordingSource, traitsOf } from '../store/index.ts';
import type { AnalysisRequest, AnalyzedFile } from './analyze-file.ts';
import { essenceOf } from './essence.ts';
import { FolderEntry } from './folder-entry.ts';
import { sameTraits } from './kept-result.ts';
import { sensorSettings } from './sensor.ts';
import { experimentDecaySettings } from './settings.ts';

/** Keeps an analysis that has been made, if nothing that it rests on has changed meanwhile. */
export type Keeper = (analyzed: AnalyzedFile) => Promise<void>;

/**
 * For a recording of an experiment folder that somebody is about to analyze by itself: what is found can be kept as if
 * the folder's list had asked for it, where it is asked for in the same way.
 *
 * @param recording path from the folder, with / between its parts
 * @param request without what people decided about the recording, which counts besides
 * @returns null where it is asked for in another way, or the list has no such recording
 */
export async function keeperFor(
  folder: string,
  experiment: Experiment,
  recording: string,
  request: AnalysisRequest,
): Promise<Keeper | null> {
  const place = recordingPlace(experiment, recording);
  if (place.kind === 'asked' || place.body === null || place.flow === null) return null;
  const condition = { body: place.body, flow: place.flow };
  if (!isUsual(experiment, condition.body, request)) return null;
  const source = await recordingSource(folder, recording);
  const placed = { path: recording, place, condition, ...(source !== recording && { archived: source }) };
  const look = async () => {
    const entry = new FolderEntry(folder, experiment, placed);
    const traits = await traitsOf(entry.file);
    await entry.readDecisions();
    await entry.knowBytes(traits);
    return { entry, traits, key: entry.key };
  };
  const before = await look();
  if (before.traits === null || before.entry.fault !== null || (await before.entry.isElsewhere()))
    return null;
  return async (analyzed) => {
    const { entry, traits, key } = await look();
    const same = before.traits !== null && traits !== null && sameTraits(traits, before.traits);
    if (!same || entry.fault !== null || key !== before.key) return;
    await entry.take(traits, analyzed.recording.sha256, key, {
      kind: 'analyzed',
      essence: essenceOf(analyzed),
    });
  };
}

/** Whether a recording is read and judged as the experiment file says, and by nothing else. */
function isUsual(
  experiment: Experiment,
  body: string,
  { read, chain, settings, zero }: AnalysisRequest,
): boolean {
  const asked = [read, chain, settings, zero];
  const usual = [{}, sensorSettings(experiment), experimentDecaySettings(experiment, body), null];
  return JSON.stringify(asked) === JSON.stringify(usual);
}
