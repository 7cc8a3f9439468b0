import type { Experiment } from '../experiment/index.ts';
import { rigKindNamed } from './kinds.ts';
import { benchRefused, listed, momentOf, type Refused, refused, signed } from './refusal.ts';
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

export type Admitted = { readonly ok: true; readonly check: NewRigCheck } | Refused;

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
  const words = signed(asked, 'check');
  if (!words.ok) return words;
  const place = placeOf(experiment, asked, about);
  if (!place.ok) return place;
  const value = readCheckValue(experiment, about, place.subject, asked.value);
  if (!value.ok) return value;
  const made = momentOf(asked.at === null ? now : Date.parse(asked.at), now, 'check');
  if (!made.ok) return made;
  return {
    ok: true,
    check: {
      at: made.at,
      who: words.who,
      bench: place.bench,
      kind: about.kind,
      subject: place.subject,
      value: value.value,
      written: value.written,
      note: words.note,
    },
  };
}

type Place = { readonly ok: true; readonly bench: string | null; readonly subject: string | null } | Refused;

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
  if (bench === null && (of === 'body' || shared)) return { ok: true, bench: null, subject };
  if (bench !== null && of === 'body') {
    return refused('A body goes from bench to bench.', 'Leave the bench out.');
  }
  return benchRefused(experiment.benches, bench) ?? { ok: true, bench, subject };
}
