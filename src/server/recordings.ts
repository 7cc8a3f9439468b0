import type { StoredDecision } from '../store/index.ts';
import type {
  ClassView,
  ComparisonView,
  Decision,
  DecisionRequest,
  Detail,
  Marks,
  Readings,
  ReadOptionsView,
  RecordingList,
  RecordingReading,
  Steps,
} from './contract/index.ts';

/** What has changed since somebody looked. */
export interface FolderEvent {
  readonly kind: 'progress' | 'recordings' | 'experiment' | 'rig';
  readonly done: number;
  readonly total: number;
}

/** The recordings of the folder, as the routes ask for them. Paths are those of the list; others give null. */
export interface Recordings {
  list(): Promise<RecordingList>;
  detail(path: string): Promise<Detail | null>;
  preview(path: string, marks: Marks): Promise<Detail | null>;
  /** @param kept told of the decision once it is on the disk, before anything is made of it */
  decide(
    path: string,
    request: DecisionRequest,
    kept: (decision: StoredDecision) => Promise<void>,
  ): Promise<Decision[] | null>;
  /** How its file is read with these options; null for those that count now. Nothing is kept. */
  reading(path: string, options: ReadOptionsView | null): Promise<RecordingReading | null>;
  /** From and to in s from the first sample; at most `points` of them. */
  readings(path: string, from: number, to: number, points: number): Promise<Readings | null>;
  steps(path: string): Promise<Steps | null>;
  /** Of the recordings of some groups; of all where none is named. */
  comparison(groups: readonly string[]): Promise<ComparisonView>;
  /** Of one section; of the whole class by null. */
  classOf(section: string | null): Promise<ClassView>;
  /**
   * Looks at the folder again.
   *
   * @param added path of a recording that was put there as a whole, and need not be waited for
   */
  refresh(added?: string): Promise<void>;
  /** @returns what ends the listening */
  listen(listener: (event: FolderEvent) => void): () => void;
}
