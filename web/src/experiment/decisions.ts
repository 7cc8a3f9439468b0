import { formatSignificant } from '../../../src/quantity/index.ts';
import type { RecordingList, Summary } from '../../../src/server/contract/index.ts';
import { naturally } from './arrange.ts';
import { deedFor, reasonWords } from './reason.ts';

/** Something that waits for a person. */
export interface Need {
  readonly kind: 'unreadable' | 'repeat' | 'idle' | 'copy' | 'apart' | 'unplaced';
  readonly path: string;
  /** Null for a file whose path does not say what it is of. */
  readonly recording: Summary | null;
  /** What was seen. */
  readonly why: string;
  /** What to do. */
  readonly deed: string;
}

const kinds: readonly Need['kind'][] = ['unreadable', 'repeat', 'idle', 'apart', 'copy', 'unplaced'];

/**
 * How far a time constant may lie from the middle of its condition, as a factor. Trials of one condition repeat
 * within a few per cent, benches within ten (common practice, no source).
 */
const farApart = 1.25;
/** Fewer others do not say where the middle is. */
const fewestOthers = 2;

/**
 * What needs a decision, the weightiest first: files that cannot be read, recordings to repeat, values far from
 * their own condition, copies, files that nothing is known of. What a person has decided on is not asked again, unless
 * something of the decision does not count.
 */
export function needsDecision({ recordings, unplaced }: RecordingList): Need[] {
  const needs = recordings
    .filter((recording) => !recording.decided && !recording.rejected)
    .flatMap((recording): Need[] => {
      const need = needOf(recording, recordings);
      return need === null ? [] : [{ ...need, path: recording.path, recording }];
    });
  for (const recording of recordings) {
    if (recording.note === null) continue;
    const deed = 'Open it and look at the file as it is now.';
    needs.push({ kind: 'idle', path: recording.path, recording, why: recording.note, deed });
  }
  for (const { path, message } of unplaced) {
    const deed = 'Add it again with its body and flow, or rename it as the experiment file asks.';
    needs.push({ kind: 'unplaced', path, recording: null, why: message, deed });
  }
  return needs.sort((a, b) => kinds.indexOf(a.kind) - kinds.indexOf(b.kind) || naturally(a.path, b.path));
}

/** How far a recording's value lies from the middle of the others of its condition, as a factor; null within reach. */
export function apartFrom(recording: Summary, all: readonly Summary[]): number | null {
  const value = sizeOf(recording);
  if (value === null || recording.place.body === null || recording.place.flow === null) return null;
  const others = all.flatMap((other) => {
    const same = other.place.body === recording.place.body && other.place.flow === recording.place.flow;
    const counts = same && other.path !== recording.path && !other.rejected && other.verdict !== 'repeat';
    const v = counts ? sizeOf(other) : null;
    return v === null ? [] : [v];
  });
  if (others.length < fewestOthers) return null;
  const factor = value / median(others);
  return factor > farApart || factor < 1 / farApart ? factor : null;
}

function needOf(recording: Summary, all: readonly Summary[]): Pick<Need, 'kind' | 'why' | 'deed'> | null {
  if (recording.state === 'unreadable') {
    return {
      kind: 'unreadable',
      why: recording.message ?? 'the file could not be read',
      deed: 'Say how it is to be read, or record again.',
    };
  }
  if (recording.verdict === 'repeat') {
    const why = reasonWords(recording);
    return { kind: 'repeat', why: why === '' ? 'cannot be used' : why, deed: deedFor(recording.codes) };
  }
  if (recording.copyOf !== null) {
    const deed = 'Keep one of the two, where it belongs; leave the other out.';
    return { kind: 'copy', why: `the same bytes as ${recording.copyOf}`, deed };
  }
  const factor = apartFrom(recording, all);
  if (factor === null) return null;
  const percent = formatSignificant(Math.abs(factor - 1) * 100, 2);
  return {
    kind: 'apart',
    why: `${percent} % ${factor > 1 ? 'above' : 'below'} the middle of the others of its condition`,
    deed: 'Look whether body and flow are what the name says, or two names were exchanged.',
  };
}

function sizeOf({ timeConstant }: Summary): number | null {
  return timeConstant !== null && timeConstant.value > 0 ? timeConstant.value : null;
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(middle)] ?? 0) + (sorted[Math.ceil(middle)] ?? 0)) / 2;
}
