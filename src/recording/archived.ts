import { choose, describe } from './described.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { Parts } from './parts.ts';
import type { Plan } from './plan.ts';
import { checkOptions } from './reader.ts';
import { type PartState, RowReplay, type Rows } from './rows.ts';
import { understood } from './running.ts';
import type { Recording } from './types.ts';

/** The first bytes of a text, from which it is understood. */
export interface Opening {
  readonly bytes: Uint8Array;
  /** Whether they are all that there is of it. */
  readonly complete: boolean;
}

/** Fewest bytes that are tried. */
const fewest = 1 << 12;

/**
 * The shortest beginning of a text from which everything is understood as from all of its opening: nothing more has to
 * be kept of it beside its rows.
 *
 * @param options of each reading that has to come to the same
 * @throws RecordingError where the text cannot be understood
 */
export function shortestOpening(whole: Opening, options: readonly ReadOptions[]): Opening {
  const wanted = options.map((one) => planText(whole, one));
  for (let length = fewest; length < whole.bytes.length; length *= 2) {
    const shorter = { bytes: whole.bytes.slice(0, length), complete: false };
    if (options.every((one, i) => planText(shorter, one) === wanted[i])) return shorter;
  }
  return whole;
}

/** Everything that is understood, as text; what goes wrong is text as well. */
function planText({ bytes, complete }: Opening, options: ReadOptions): string {
  try {
    return JSON.stringify(understood(bytes, complete, options).plan);
  } catch (error) {
    if (error instanceof RecordingError) return error.message;
    throw error;
  }
}

/** Reads a recording anew from its opening and its rows, as the text was read. */
export class Rereading {
  readonly #options: ReadOptions;
  readonly #plan: Plan;
  readonly #parts: Parts;
  readonly #replay: RowReplay;

  /**
   * @param parts where the recording began and began again
   * @param columns columns of the text, counted from 1, that the values of a row are from
   * @throws RecordingError where what is asked for is not in the rows
   */
  constructor(
    opening: Opening,
    parts: readonly PartState[],
    columns: readonly number[],
    options: ReadOptions,
  ) {
    checkOptions(options);
    this.#options = options;
    this.#plan = understood(opening.bytes, opening.complete, options).plan;
    const { choice, time, name } = this.#plan;
    const [own] = columns;
    if (choice.channel.column !== own) {
      throw new RecordingError(
        'archive-unfit',
        name,
        null,
        `Column ${choice.channel.column} ("${choice.channel.name}") is asked for; the archive was made for column ${own}, and of another one it does not say what was left out.`,
        'Read the text itself; where it was removed, take it from a backup.',
      );
    }
    const companions = choice.companions.map(({ column }) => columns.indexOf(column));
    if (companions.includes(-1)) {
      throw new RecordingError(
        'archive-unfit',
        name,
        null,
        'A column that is asked for beside the channel is not in the archive.',
        'Read the text itself; where it was removed, take it from a backup.',
      );
    }
    this.#parts = new Parts(time.samplePeriod, companions.length, options.segment ?? null);
    this.#replay = new RowReplay(this.#parts, name, parts, companions);
  }

  /** @throws RecordingError where they are no rows of a recording */
  push(rows: Rows): void {
    this.#replay.push(rows);
  }

  /**
   * The recording, and where its samples are among the rows.
   *
   * @throws RecordingError where rows are missing, or the part that was asked for is not there
   */
  end(): { readonly recording: Recording; readonly part: number; readonly firstTime: number } {
    this.#replay.end();
    const chosen = choose(this.#plan, this.#parts, this.#options);
    return {
      recording: describe(this.#plan, chosen),
      part: chosen.number,
      firstTime: chosen.part.firstTime,
    };
  }
}
