import type { DecaySettings, TimeConstant } from '../decay/index.ts';
import { analyzeOpened, openRecording } from './analyze-file.ts';
import { type AnalyzedDetail, analyzedDetail, marksUsed } from './detail.ts';
import { type Essence, essenceOf } from './essence.ts';
import { marksOf } from './found-marks.ts';
import { resultKey } from './kept-result.ts';
import type { ListOrder } from './list-work.ts';

/** A recording of which everything is to be told. Plain data: it can be sent to another thread. */
export interface DetailOrder extends ListOrder {
  /** From the experiment folder. */
  readonly path: string;
  /** How it is judged without a person's marks. */
  readonly ownSettings: DecaySettings;
}

/** What there is to tell; null where it cannot be read. Plain data. */
export type DetailAnswer = {
  readonly sha256: string;
  readonly part: AnalyzedDetail;
  readonly timeConstant: TimeConstant | null;
  readonly essence: Essence;
} | null;

/** Reads and analyzes a recording and tells everything of it, in this thread. */
export async function detailWork(order: DetailOrder): Promise<DetailAnswer> {
  const { path, file, read, chain, settings, ownSettings } = order;
  try {
    const opened = await openRecording(file, { read, chain, zero: null });
    const analyzed = await analyzeOpened(opened, settings);
    const asFound = resultKey(order, settings) === resultKey(order, ownSettings);
    const found = asFound ? marksUsed(analyzed) : marksOf(opened.trace, ownSettings);
    return {
      sha256: analyzed.recording.sha256,
      part: analyzedDetail(path, analyzed, found),
      timeConstant: analyzed.decay.timeConstant,
      essence: essenceOf(analyzed),
    };
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    return null;
  }
}
