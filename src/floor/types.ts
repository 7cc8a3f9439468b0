import type { TrialNow } from '../live/index.ts';

/** One bench as the instructor sees it from three metres. */
export interface BenchTile {
  /** Code of the bench; where recordings name none, of the group, else the folder that its files are in. */
  readonly bench: string;
  readonly group: string | null;
  readonly section: string | null;
  readonly condition: { readonly body: string; readonly flow: string } | null;
  readonly repeat: number | null;
  /** Of the file that is followed, from the experiment folder; null while none is there. */
  readonly path: string | null;
  readonly trial: TrialNow | null;
  /** What is in the way of reading the file, and the mend; null where nothing is. */
  readonly trouble: { readonly message: string; readonly mend: string } | null;
  /** s since the file last grew, by this machine's clock. */
  readonly quiet: number | null;
  /** Trials of this bench in this session that are done, with how they came out. */
  readonly trials: readonly FinishedTrial[];
  /** Rig checks that failed or are stale, as sentences. */
  readonly rig: readonly string[];
}

/** A trial of the session that is done. */
export interface FinishedTrial {
  readonly path: string;
  readonly condition: { readonly body: string; readonly flow: string } | null;
  readonly repeat: number | null;
  readonly timeConstant: number | null;
  readonly standardUncertainty: number | null;
  readonly verdict: 'usable' | 'usable-with-remarks' | 'repeat' | 'unreadable';
  /** In words, with the reason of a repeat. */
  readonly words: string;
}

/** One bench that the instructor should walk to, the most urgent first. */
interface Call {
  readonly bench: string;
  /** Greater is more urgent. */
  readonly urgency: number;
  /** One sentence: why. */
  readonly why: string;
}

/** The session against its plan. Times in s. */
export interface SessionNow {
  /** Since the session began; null where it is not known when. */
  readonly elapsed: number | null;
  readonly length: number | null;
  readonly remaining: number | null;
  /** Trials that were planned and are not done, by bench, and which of them still fit. */
  readonly left: readonly {
    readonly bench: string;
    readonly condition: { readonly body: string; readonly flow: string };
    readonly trials: number;
    readonly fits: boolean;
  }[];
  readonly message: string;
}

/** All benches at one moment. */
export interface FloorNow {
  /** ISO 8601, by this machine's clock. */
  readonly at: string;
  readonly benches: readonly BenchTile[];
  readonly calls: readonly Call[];
  readonly session: SessionNow;
  /** What is in the way of watching at all, such as an experiment file with faults; null where nothing is. */
  readonly trouble: { readonly message: string; readonly mend: string } | null;
}

/** What happens on the floor, for as long as it is open. */
export interface Floor {
  /** As far as was looked last. */
  now(): FloorNow;
  /**
   * Looks once more, at whatever is due. A floor that keeps time does so by itself.
   */
  look(): Promise<void>;
  /** Comes when no file that is done waits for its analysis: those of the session alone, or of the whole folder. */
  settled(of?: 'session' | 'folder'): Promise<void>;
  /**
   * @param listener told at most twice a second, with the codes of the benches whose tiles are not as they were
   * @returns ends the telling
   */
  onChange(listener: (now: FloorNow, changed: readonly string[]) => void): () => void;
  close(): Promise<void>;
}
