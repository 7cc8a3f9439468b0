/** A check that is being typed. */
import { rigKind } from '../../../src/rig/index.ts';
import type { RigCheckRequest, RigStandingView, RigView } from '../../../src/server/contract/index.ts';

export interface Draft {
  readonly kind: RigCheckRequest['kind'];
  /** Empty for what all benches share, or where there is one rig. */
  readonly bench: string;
  /** Code of the body or of the flow; empty for what belongs to the bench. */
  readonly subject: string;
  readonly value: string;
  readonly note: string;
  /** As the field for a moment has it, in the zone of this computer; empty for now. */
  readonly at: string;
}

/** The first thing that somebody would check. */
export function firstDraft({ benches }: RigView): Draft {
  return { kind: 'zero', bench: benches[0] ?? '', subject: '', value: '', note: '', at: '' };
}

/** The check that a standing asks for. */
export function draftFor({ kind, bench, subject }: RigStandingView): Draft {
  return { kind, bench: bench ?? '', subject: subject ?? '', value: '', note: '', at: '' };
}

/** The same with another kind: bench and code stay where they still mean something. */
export function withKind(draft: Draft, kind: Draft['kind'], view: RigView): Draft {
  const codes = codesFor(view, kind);
  const { of, shared } = rigKind(kind);
  const bench = of === 'body' ? '' : shared ? draft.bench : draft.bench || (view.benches[0] ?? '');
  const subject = codes.includes(draft.subject) ? draft.subject : (codes[0] ?? '');
  return { ...draft, kind, bench, subject, value: '' };
}

/** Codes that a kind of check can be about. */
export function codesFor({ bodies, flows }: RigView, kind: Draft['kind']): readonly string[] {
  const { of } = rigKind(kind);
  if (of === 'bench') return [];
  return of === 'body' ? bodies : flows;
}

/** How what the draft is about stands now. */
export function standingFor({ standings }: RigView, draft: Draft): RigStandingView | null {
  const { kind } = draft;
  const bench = draft.bench || null;
  const subject = draft.subject || null;
  const own = standings.filter((one) => one.kind === kind && one.subject === subject);
  return own.find((one) => one.bench === bench) ?? own.find((one) => one.bench === null) ?? null;
}

/** What is sent. A moment that cannot be read is left to the server to refuse. */
export function requestOf({ kind, bench, subject, value, note, at }: Draft, who: string): RigCheckRequest {
  const moment = new Date(at);
  const made = at === '' ? {} : { at: Number.isNaN(moment.getTime()) ? at : moment.toISOString() };
  return { kind, value, bench: bench || null, subject: subject || null, who, note, ...made };
}
