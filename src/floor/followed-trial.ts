import { type OpenRequest, readOptionsFor, recordingInDegrees, SensorError } from '../analysis/index.ts';
import type { DecaySettings } from '../decay/index.ts';
import { type TrialContext, type TrialNow, TrialWatch } from '../live/index.ts';
import { type FollowedFile, followRecording, type Poll } from '../recording/files.ts';
import { RecordingError } from '../recording/index.ts';
import { ChainError } from '../sensing/index.ts';
import { ArrivalRate } from './arrival-rate.ts';
import type { BenchTile } from './types.ts';

/** How often a file is looked at that rests, ms; one that grows each time that the floor looks. */
const restingPause = 1000;
/** A file rests when it has not grown for so long, ms. */
const restsAfter = 20_000;
/**
 * On average fitting a cooling takes this part of the time at most, but is not put off for longer than this, ms. All
 * else about a trial is cheap, and done each time that the floor looks.
 */
const costShare = 1 / 16;
const longestPause = 3000;
/** A file is done when it has not grown for so long once the end fraction is reached, ms, or for so many readings. */
const doneAfterEnd = 10_000;
const doneAfterReadings = 20;
/** And so long where it is not reached, ms. */
const doneOtherwise = 60_000;
/** A logger that writes keeps its file to itself for a moment, ms. */
const lockedFor = 5000;
/** A trial is judged by at most so many blocks, and while it grows by so many single readings of its beginning. */
const mostBlocks = 8192;
const mostOpening = 8192;

/** How a trial is read and judged. */
export interface TrialRequest extends Omit<OpenRequest, 'zero'> {
  readonly settings: DecaySettings;
  /** What is known of the trial, but for what its own file shows. */
  readonly context: Omit<TrialContext, 'arrivalRate'>;
}

/** One file, followed while a trial is recorded into it. Times by our clock, ms, but where it is said. */
export class FollowedTrial {
  readonly path: string;
  readonly #file: FollowedFile;
  readonly #request: TrialRequest;
  readonly #arrivals = new ArrivalRate();
  #watch: TrialWatch;
  #trial: TrialNow | null = null;
  #trouble: BenchTile['trouble'] = null;
  #lockedSince: number | null = null;
  #rate: number | null = null;
  /** Whether it was read to its end at least once: what comes then is growth. */
  #caughtUp = false;
  #firstLook: number | null = null;
  #grown: number | null = null;
  /** Whether something was read that the trial does not know yet. */
  #news = false;
  #growing = true;
  #nextLook = Number.NEGATIVE_INFINITY;
  #nextFit = Number.NEGATIVE_INFINITY;
  #changes = 0;

  /**
   * @param path from the experiment folder
   * @param file the same from where the program runs
   * @throws SensorError where the experiment file's sensor cannot be understood
   */
  constructor(path: string, file: string, request: TrialRequest) {
    this.path = path;
    this.#request = request;
    this.#file = followRecording(file, { name: path, ...readOptionsFor({ ...request, zero: null }) });
    this.#watch = new TrialWatch(request.settings);
  }

  /** Null as long as there is too little to read. */
  get trial(): TrialNow | null {
    return this.#trial;
  }

  get trouble(): BenchTile['trouble'] {
    return this.#trouble;
  }

  /** Counted up with everything that changes. */
  get changes(): number {
    return this.#changes;
  }

  /** When it was seen to grow last; null where it was not. */
  get grown(): number | null {
    return this.#grown;
  }

  /** Whether no more is to come, as far as can be told. */
  get done(): boolean {
    return !this.#growing;
  }

  /**
   * Looks at the file if it is time to.
   *
   * @param now our clock
   * @param restedBefore for how long it had not grown already when it was first looked at, as far as is known
   */
  async look(now: number, restedBefore: number): Promise<void> {
    if (now < this.#nextLook) return;
    this.#firstLook ??= now;
    const poll = await this.#file.poll();
    this.#hear(poll, now);
    const more = 'more' in poll && poll.more;
    const quiet = this.#quiet(now, restedBefore);
    this.#nextLook = more || quiet < restsAfter ? now : now + restingPause;
    if (!more) this.#caughtUp = true;
    const growing = more || quiet < this.#doneAfter();
    const turned = growing !== this.#growing;
    this.#growing = growing;
    if (turned || (this.#news && !more)) this.#take(now);
  }

  close(): Promise<void> {
    return this.#file.close();
  }

  #quiet(now: number, restedBefore: number): number {
    if (this.#grown !== null) return now - this.#grown;
    return restedBefore + now - (this.#firstLook ?? now);
  }

  #doneAfter(): number {
    if (this.#trial?.phase !== 'done') return doneOtherwise;
    const reached = this.#trial.errorFraction ?? 1;
    if (reached > this.#request.settings.endFraction) return doneOtherwise;
    return Math.max(doneAfterEnd, this.#rate === null ? 0 : (doneAfterReadings / this.#rate) * 1000);
  }

  #hear(poll: Poll, now: number): void {
    if (poll.kind === 'locked') {
      this.#lockedSince ??= now;
      if (now - this.#lockedSince >= lockedFor) this.#complain(poll.error);
      return;
    }
    this.#lockedSince = null;
    if (poll.kind === 'gone' || poll.kind === 'refused') {
      this.#complain(poll.error);
      return;
    }
    if (poll.kind === 'restarted') {
      this.#watch = new TrialWatch(this.#request.settings);
      this.#arrivals.forget();
    }
    if (poll.kind !== 'unchanged') {
      this.#news = true;
      if (this.#caughtUp) this.#grown = now;
    } else if (this.#trouble !== null) this.#news = true;
  }

  #take(now: number): void {
    const start = performance.now();
    this.#news = false;
    this.#changes += 1;
    try {
      const request = { ...this.#request, zero: null };
      const coarse = this.#file.coarse(mostBlocks);
      const opening = this.#growing ? coarse.opening.subarray(0, mostOpening) : coarse.opening;
      const { recording, trace } = recordingInDegrees({ ...coarse, opening }, request);
      this.#rate = recording.rate;
      if (this.#grown !== null) this.#arrivals.add(this.#grown, recording.samples);
      const context = { ...this.#request.context, arrivalRate: this.#arrivals.rate };
      this.#trial = this.#watch.take(trace, context, this.#growing, now >= this.#nextFit);
      this.#trouble = null;
    } catch (error) {
      this.#complain(error);
    }
    const pause = Math.min(longestPause, (performance.now() - start) / costShare);
    this.#nextFit = Math.max(this.#nextFit, now + pause);
  }

  #complain(error: unknown): void {
    const trouble = troubleOf(error);
    // A file that was begun a moment ago holds nothing yet.
    const early = error instanceof RecordingError && isEarly(error) && this.#growing;
    const said = early ? null : trouble;
    if (said?.message !== this.#trouble?.message) this.#changes += 1;
    this.#trouble = said;
  }
}

/** What may be missing only because there are no rows yet. */
function isEarly({ code }: RecordingError): boolean {
  return code === 'empty' || code === 'no-numbers';
}

/** @throws what is no fault of a file */
function troubleOf(error: unknown): { message: string; mend: string } {
  if (error instanceof RecordingError) return { message: error.what, mend: error.mend };
  if (error instanceof SensorError) return { message: `${error.what}.`, mend: `${capital(error.mend)}.` };
  if (error instanceof ChainError) {
    return { message: error.message, mend: 'Look at sensor in the experiment file.' };
  }
  throw error;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
