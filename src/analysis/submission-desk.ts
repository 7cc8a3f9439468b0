import type { MeasuredFacts, PredictedFacts } from '../class/index.ts';
import { type Condition, type Experiment, entryOf } from '../experiment/index.ts';
import type { KnownRecording } from '../marking/index.ts';
import { RecordingError } from '../recording/index.ts';
import { ChainError } from '../sensing/index.ts';
import { predictedFacts } from './chain-facts.ts';
import type { FolderAnalysis } from './folder-analysis.ts';
import { type HandedIn, type HandedInFolder, readHandedIn } from './handed-in.ts';
import { type MarkedGroup, markGroup } from './marked-group.ts';
import { sensorSettings } from './sensor.ts';
import { SensorError } from './sensor-error.ts';
import { measuredFacts } from './student-facts.ts';

/** A group that has handed nothing in. */
export class NothingHandedInError extends Error {
  override readonly name = 'NothingHandedInError';
  readonly mend = 'Take a sheet of this group in first.';

  constructor(group: string) {
    super(`Group ${group.slice(0, 60)} has handed nothing in.`);
  }
}

/** The recordings of a folder as rows of sheets may be about them. */
export function knownRecordings(analysis: FolderAnalysis): KnownRecording[] {
  return analysis.list().recordings.map(({ path, place, startedAt }) => ({ path, place, startedAt }));
}

/** What groups of an experiment handed in, held against their own recordings. Facts are kept while they hold. */
export class SubmissionDesk {
  readonly #analysis: FolderAnalysis;
  readonly #facts = new Map<string, MeasuredFacts | string>();
  readonly #leave: () => void;

  constructor(analysis: FolderAnalysis) {
    this.#analysis = analysis;
    this.#leave = analysis.onChange((change) => {
      if (change.kind === 'list') this.#facts.clear();
      else if (change.kind === 'recording') this.#facts.delete(change.path);
    });
  }

  /**
   * Everything that lies below `submissions/` now; nothing without a usable experiment file.
   *
   * @param recordings that rows may be about; all of the folder where left out
   */
  async handedIn(
    recordings: readonly KnownRecording[] = knownRecordings(this.#analysis),
  ): Promise<HandedInFolder> {
    const { experiment, folder } = this.#analysis;
    if (experiment === null) return { groups: [], unusable: [], faults: [] };
    return readHandedIn(folder, experiment, recordings);
  }

  /**
   * What one group handed in, assessed.
   *
   * @throws NothingHandedInError
   */
  async mark(group: string): Promise<MarkedGroup> {
    const found = (await this.handedIn()).groups.find((one) => one.group === group);
    if (found === undefined) throw new NothingHandedInError(group);
    const [marked] = await this.markAll([found]);
    if (marked === undefined) throw new NothingHandedInError(group);
    return marked;
  }

  /**
   * What groups handed in, assessed.
   *
   * @param found by `handedIn`
   * @param onProgress told how many rows are done
   */
  async markAll(
    found: readonly HandedIn[],
    onProgress: (done: number) => void = () => undefined,
  ): Promise<MarkedGroup[]> {
    const { experiment } = this.#analysis;
    if (experiment === null) return [];
    const marked: MarkedGroup[] = [];
    let before = 0;
    for (const one of found) {
      marked.push(await this.#mark(one, experiment, (done) => onProgress(before + done)));
      before += one.rows.length;
    }
    return this.#withFlags(marked);
  }

  /** When a recording was made is known for certain only after it was read. */
  async #withFlags(marked: readonly MarkedGroup[]): Promise<MarkedGroup[]> {
    const now = new Map((await this.handedIn()).groups.map((one) => [one.group, one]));
    return marked.map((one) => {
      const again = now.get(one.group);
      if (again?.file.path !== one.file.path) return one;
      const flagged = one.marked.map((row) => {
        const placed = again.rows.find(({ row: { line } }) => line === row.placed.row.line);
        return placed === undefined ? row : { ...row, placed };
      });
      return { ...one, marked: flagged };
    });
  }

  async #mark(
    found: HandedIn,
    experiment: Experiment,
    onProgress: (done: number) => void,
  ): Promise<MarkedGroup> {
    const predictions = new Map<string, PredictedFacts | null>();
    return markGroup(
      found,
      experiment,
      knownRecordings(this.#analysis),
      {
        measured: (path) => this.#measured(path, experiment),
        predicted: (condition) => {
          const key = JSON.stringify(condition);
          const known = predictions.get(key);
          if (known !== undefined) return known;
          const facts = predictedFacts(experiment, condition);
          predictions.set(key, facts);
          return facts;
        },
      },
      onProgress,
    );
  }

  /** Ends the listening for changes. */
  close(): void {
    this.#leave();
    this.#facts.clear();
  }

  async #measured(path: string, experiment: Experiment): Promise<MeasuredFacts | string> {
    const known = this.#facts.get(path);
    if (known !== undefined) return known;
    const facts = await this.#worked(path, experiment);
    this.#facts.set(path, facts);
    return facts;
  }

  async #worked(path: string, experiment: Experiment): Promise<MeasuredFacts | string> {
    try {
      const analyzed = await this.#analysis.analysis(path);
      const flow = this.#conditionOf(path)?.flow ?? null;
      const moving = flow !== null && entryOf(experiment.flows, flow)?.kind !== 'still';
      const facts = measuredFacts(analyzed, sensorSettings(experiment), experiment, moving);
      return facts ?? 'The recording holds no heating and cooling that values could be worked from.';
    } catch (error) {
      const unread =
        error instanceof RecordingError || error instanceof SensorError || error instanceof ChainError;
      if (!unread) throw error;
      return 'The recording cannot be read; see it in the list of recordings.';
    }
  }

  #conditionOf(path: string): Condition | null {
    const place = this.#analysis.list().recordings.find((one) => one.path === path)?.place;
    const { body = null, flow = null } = place ?? {};
    return body === null || flow === null ? null : { body, flow };
  }
}
