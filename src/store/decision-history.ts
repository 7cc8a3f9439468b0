import type { KeptReading, Marks, StoredDecision } from './decision-schema.ts';
import { undoneIds } from './decisions.ts';

/** A decision, and whether it counts. */
export interface Decision {
  readonly id: string;
  /** ISO 8601 with a zone. */
  readonly at: string;
  readonly who: string;
  readonly why: string;
  readonly kind: StoredDecision['kind'];
  readonly marks: Marks | null;
  /** How the file is to be read; null but for `reading`. */
  readonly read: KeptReading | null;
  /** The decision that is taken back; null but for `undo`. */
  readonly undoes: string | null;
  readonly applies: boolean;
  /** One sentence: why it does not count; null where it does. */
  readonly note: string | null;
}

/** The decisions about a recording as they stand. */
export interface DecisionHistory {
  /** The first first. */
  readonly decisions: Decision[];
  /** Marks that count; null for those that are found. */
  readonly marks: Marks | null;
  /** How the file is to be read; null for what is found. */
  readonly reading: KeptReading | null;
  /** Why a person took the recording out; null where nobody did. */
  readonly rejected: { readonly who: string; readonly why: string } | null;
}

/**
 * Which decisions count: of those about these bytes that were not taken back, the last of each kind.
 *
 * @param stored the first first
 * @param sha256 of the raw file as it is now; null where it cannot be read
 */
export function decisionHistory(stored: readonly StoredDecision[], sha256: string | null): DecisionHistory {
  const undone = undoneIds(stored);
  const standing = stored.filter((one) => one.sha256 === sha256 && !undone.has(one.id));
  const marks = standing.findLast((one) => one.kind === 'marks');
  const reading = standing.findLast((one) => one.kind === 'reading');
  const reject = standing.findLast((one) => one.kind === 'reject');
  const decisions = stored.map((one): Decision => {
    const { id, at, who, why, kind } = one;
    const last = { marks, reading, reject, undo: undefined }[kind];
    const note = noteOn(one, sha256, undone, last?.id);
    return {
      id,
      at,
      who,
      why,
      kind,
      marks: one.kind === 'marks' ? one.marks : null,
      read: one.kind === 'reading' ? one.read : null,
      undoes: one.kind === 'undo' ? one.undoes : null,
      applies: note === null,
      note,
    };
  });
  return {
    decisions,
    marks: marks?.kind === 'marks' ? marks.marks : null,
    reading: reading?.kind === 'reading' ? reading.read : null,
    rejected: reject === undefined ? null : { who: reject.who, why: reject.why },
  };
}

function noteOn(
  { id, kind, sha256: about }: StoredDecision,
  sha256: string | null,
  undone: ReadonlySet<string>,
  last: string | undefined,
): string | null {
  if (undone.has(id)) return 'It was taken back.';
  if (kind === 'undo') return null;
  if (about !== sha256) {
    return 'It was made for other bytes: the raw file has changed since. Look at the recording and decide again.';
  }
  return id === last ? null : 'A later one took its place.';
}
