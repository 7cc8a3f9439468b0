import type { Experiment } from '../experiment/index.ts';
import { rigKindNamed } from './kinds.ts';
import { codesOf } from './standing.ts';
import type { RigCheck } from './types.ts';
import { readCheckValue } from './value.ts';

/** A check as somebody hands it in. */
export interface AskedCheck {
  readonly kind: string;
  /** With its unit. */
  readonly value: string;
  readonly bench: string | null;
  readonly subject: string | null;
  readonly who: string;
  readonly note: string;
  /** When it was made, ISO 8601 with a zone; null for now. */
  readonly at: string | null;
}

/** A check without the name that the book gives it. */
export type NewRigCheck = Omit<RigCheck, 'id'>;

export type Admitted =
  | { readonly ok: true; readonly check: NewRigCheck }
  | { readonly ok: false; readonly message: string; readonly mend: string };

/** Clocks of two machines differ by less, ms. */
const clockSkew = 600_000;

/** What the file with the checks takes. */
const longestName = 60;
const longestNote = 500;

/**
 * Holds a check against the experiment: its kind, value and unit, bench, body or flow, and time.
 *
 * @param now ms since 1970 (UTC), from the caller's clock
 */
export function admitCheck(experiment: Experiment, asked: AskedCheck, now: number): Admitted {
  const about = rigKindNamed(asked.kind);
  if (about === null) {
    return refused(
      `"${asked.kind.slice(0, 60)}" is no kind of check.`,
      'Name one of zero, gain, ice-point, jet-temperature, flow, supply-pressure, diameter and mass.',
    );
  }
  const who = asked.who.trim();
  const note = asked.note.trim();
  if (who === '') return refused('Nobody is named who made the check.', 'Say who it was; initials will do.');
  if (who.length > longestName) return refused('The name is too long.', 'Initials will do.');
  if (note.length > longestNote)
    return refused('The note is too long.', `Write at most ${longestNote} letters.`);
  const place = placeOf(experiment, asked, about);
  if (!place.ok) return place;
  const value = readCheckValue(experiment, about, place.subject, asked.value);
  if (!value.ok) return value;
  const made = asked.at === null ? now : Date.parse(asked.at);
  if (!Number.isFinite(made) || made < 0) {
    return refused('The time of the check is not understood.', 'Write it as 2026-03-02T13:40:00+00:00.');
  }
  if (made > now + clockSkew) {
    return refused('The check lies in the future.', 'Give the time at which it was made; see the clock too.');
  }
  return {
    ok: true,
    check: {
      at: new Date(made).toISOString(),
      who,
      bench: place.bench,
      kind: about.kind,
      subject: place.subject,
      value: value.value,
      written: value.written,
      note,
    },
  };
}

type Place =
  | { readonly ok: true; readonly bench: string | null; readonly subject: string | null }
  | { readonly ok: false; readonly message: string; readonly mend: string };

function placeOf(
  experiment: Experiment,
  { bench, subject }: AskedCheck,
  { kind, of, shared }: NonNullable<ReturnType<typeof rigKindNamed>>,
): Place {
  const codes = of === 'bench' ? [] : codesOf(experiment, of);
  if (of === 'bench' && subject !== null) {
    return refused(
      `A check of kind ${kind} is about the bench, not about a body or a flow.`,
      'Leave the code out.',
    );
  }
  if (of !== 'bench' && (subject === null || !codes.includes(subject))) {
    const named = subject === null ? 'none is named' : `"${subject.slice(0, 60)}" is not one`;
    return codes.length === 0
      ? refused(`The experiment file has no ${of} that could be checked.`, 'Describe it there first.')
      : refused(`A check of kind ${kind} is about a ${of}, and ${named}.`, `Name one of ${listed(codes)}.`);
  }
  const { benches } = experiment;
  if (bench === null) {
    const whose = of === 'body' || shared || benches.length === 0;
    if (whose) return { ok: true, bench: null, subject };
    return refused(
      'The experiment has several benches, and none is named.',
      `Name one of ${listed(benches)}.`,
    );
  }
  if (of === 'body') {
    return refused('A body goes from bench to bench.', 'Leave the bench out.');
  }
  if (!benches.includes(bench)) {
    return benches.length === 0
      ? refused('The experiment file lists no benches.', 'Leave the bench out, or list it under benches.')
      : refused(`There is no bench "${bench.slice(0, 60)}".`, `Name one of ${listed(benches)}.`);
  }
  return { ok: true, bench, subject };
}

function refused(message: string, mend: string) {
  return { ok: false, message, mend } as const;
}

function listed(codes: readonly string[]): string {
  return codes.length > 20 ? `${codes.slice(0, 20).join(', ')} and others` : codes.join(', ');
}
