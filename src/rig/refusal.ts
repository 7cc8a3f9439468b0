/** Why something cannot be kept, and what to do. */
export interface Refused {
  readonly ok: false;
  readonly message: string;
  readonly mend: string;
}

/** Clocks of two machines differ by less, ms. */
const clockSkew = 600_000;

/** What the files of the rigs take. */
const longestName = 60;
const longestNote = 500;

export function refused(message: string, mend: string): Refused {
  return { ok: false, message, mend };
}

/** Codes in a sentence. */
export function listed(codes: readonly string[]): string {
  return codes.length > 20 ? `${codes.slice(0, 20).join(', ')} and others` : codes.join(', ');
}

/** Who did something and what was written beside it, without blanks about them. */
export function signed(
  asked: { readonly who: string; readonly note: string },
  thing: string,
): { readonly ok: true; readonly who: string; readonly note: string } | Refused {
  const who = asked.who.trim();
  const note = asked.note.trim();
  if (who === '')
    return refused(`Nobody is named who made the ${thing}.`, 'Say who it was; initials will do.');
  if (who.length > longestName) return refused('The name is too long.', 'Initials will do.');
  if (note.length > longestNote)
    return refused('The note is too long.', `Write at most ${longestNote} letters.`);
  return { ok: true, who, note };
}

/**
 * When something was done.
 *
 * @param at ms since 1970 (UTC); NaN where it is not understood
 * @param now the same, from the caller's clock
 */
export function momentOf(
  at: number,
  now: number,
  thing: string,
): { readonly ok: true; readonly at: string } | Refused {
  if (!Number.isFinite(at) || at < 0) {
    return refused(`The time of the ${thing} is not understood.`, 'Write it as 2026-03-02T13:40:00+00:00.');
  }
  if (at > now + clockSkew) {
    return refused(
      `The ${thing} lies in the future.`,
      'Give the time at which it was made; see the clock too.',
    );
  }
  return { ok: true, at: new Date(at).toISOString() };
}

/** Whether a bench is one that the experiment file lists; null is for a single rig. */
export function benchRefused(benches: readonly string[], bench: string | null): Refused | null {
  if (bench === null) {
    if (benches.length === 0) return null;
    return refused(
      'The experiment has several benches, and none is named.',
      `Name one of ${listed(benches)}.`,
    );
  }
  if (benches.includes(bench)) return null;
  return benches.length === 0
    ? refused('The experiment file lists no benches.', 'Leave the bench out, or list it under benches.')
    : refused(`There is no bench "${bench.slice(0, 60)}".`, `Name one of ${listed(benches)}.`);
}
