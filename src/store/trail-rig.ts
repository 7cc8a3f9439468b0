import type { ReferenceBook, RigBook, RigWithdrawal } from '../rig/index.ts';
import type { TrailEntry } from './trail-line.ts';

type Told = Omit<TrailEntry, 'who'>;

/** What the trail says of the last check of a book. */
export function checkKept({ checks }: RigBook): Told {
  const last = checks.at(-1);
  const of = [last?.bench, last?.subject].filter((one) => one !== null).join(' ');
  const note = `${last?.id}: ${last?.kind} ${of} ${last?.written}, signed ${last?.who}`;
  return { deed: 'check-kept', about: 'rig/checks.json', note: note.replace(/ +/g, ' ') };
}

/** What the trail says of the last reference run of a book. */
export function referenceKept({ runs }: ReferenceBook): Told {
  const last = runs.at(-1);
  const note = `${last?.id}: ${last?.bench ?? 'no bench'}, signed ${last?.who}`;
  return { deed: 'reference-kept', about: last?.recording ?? null, sha256: last?.sha256 ?? null, note };
}

/** What the trail says of an entry that was taken back. */
export function entryWithdrawn({ id, who, why }: RigWithdrawal): Told {
  // The book of reference runs names its entries r1, r2 and so on.
  const about = /^r\d+$/.test(id) ? 'rig/reference-runs.json' : 'rig/checks.json';
  return { deed: 'entry-withdrawn', about, note: `${id}: ${why}, signed ${who}` };
}
