/** What the place of a recording says, from what the server knows. */
import { readOptionsWords } from '../../../src/recording/index.ts';
import type { Decision, Detail, Marks, Span } from '../../../src/server/contract/index.ts';
import { keptMarks, nothingMarked, sameMarks } from './marks.ts';

const kinds: Readonly<Record<Decision['kind'], string>> = {
  marks: 'marks moved',
  reject: 'taken out of the comparison',
  reading: 'how the file is read',
  undo: 'taken back',
};

/** A decision in words, with its marks. */
export function decisionWords(decision: Decision, all: readonly Decision[]): string {
  if (decision.kind === 'undo') {
    const of = all.find((d) => d.id === decision.undoes);
    return of === undefined ? 'an earlier decision taken back' : `taken back: ${kinds[of.kind]}`;
  }
  if (decision.read !== null) return `${kinds.reading}: ${readOptionsWords(decision.read)}`;
  const at = decision.marks === null ? '' : marksWords(decision.marks);
  return at === '' ? kinds[decision.kind] : `${kinds[decision.kind]}: ${at}`;
}

/** Marks in words: 'baseline 0 s to 19.2 s, cooling 61.2 s to 220 s'. */
export function marksWords({ baseline, cooling, heating }: Marks): string {
  const part = (name: string, span: Span | null) =>
    span === null ? [] : [`${name} ${short(span.from)} s to ${short(span.to)} s`];
  return [
    ...part('baseline', baseline),
    ...part('cooling', cooling),
    ...(heating === null ? [] : [`heating ${heating}`]),
  ].join(', ');
}

function short(time: number): string {
  return String(Number(time.toFixed(time < 10 ? 3 : 2)));
}

/** Day and time of a decision, in the reader's zone; the text itself where it is no time. */
export function whenWords(at: string): string {
  const time = new Date(at);
  if (Number.isNaN(time.getTime())) return at;
  return time.toLocaleString('en-GB', { dateStyle: 'long', timeStyle: 'short' });
}

/** By what a result is cut, in words; null where nothing was moved. */
export function cutWords(moved: Marks | null, decisions: readonly Decision[]): string | null {
  if (moved !== null) return 'Marks moved, not yet kept';
  const kept = keptMarks(decisions);
  if (sameMarks(kept, nothingMarked)) return null;
  const by = decisions.findLast((d) => d.kind === 'marks' && d.applies);
  return by === undefined ? null : `By moved marks: ${by.why}`;
}

/** The decision that takes the recording out, if one does. */
export function rejectionOf({
  decisions,
  rejected,
}: Pick<Detail, 'decisions' | 'rejected'>): Decision | null {
  if (!rejected) return null;
  return decisions.findLast((d) => d.kind === 'reject' && d.applies) ?? null;
}

/** A number of bytes for reading: '183 kB'. */
export function bytesWords(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`;
  if (bytes < 1e6) return `${(bytes / 1e3).toFixed(bytes < 1e4 ? 1 : 0)} kB`;
  return `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
}

/** A count in groups of three. */
export function countWords(count: number): string {
  return String(Math.round(count)).replace(/\B(?=(?:\d{3})+$)/g, '\u202F');
}

/** A rate: '100 Hz', '1000 Hz', '0.5 Hz'. */
export function rateWords(rate: number): string {
  return `${Number(rate.toPrecision(5))} Hz`;
}
