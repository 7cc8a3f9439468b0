import type { TrialNow } from '../live/index.ts';
import { type RemarkCode, remarkCatalogue } from '../remark/index.ts';

type Gate = TrialNow['gates'][number];
type GateCode = Gate['code'];

/** `said`: by its own sentences. Other words stand for its own; what is left out of them stays as it is. */
type RemarkTelling = 'said' | { readonly message?: string; readonly action?: string };
type GateTelling =
  | 'said'
  | { readonly message?: Readonly<Record<Gate['state'], string>>; readonly mend?: string };

/**
 * What a group may be told of its recordings before the results are released. A time constant, or what it is read off
 * from, is what the group is to work out: a remark whose sentences may hold one has other words here. A remark that does
 * not stand here is not told.
 */
export const remarkTellings: Readonly<Partial<Record<RemarkCode, RemarkTelling>>> = {
  'adequacy-untested': 'said',
  'ambient-doubtful': {
    message: 'The ambient that was given is not the level that the cooling tends to.',
    action: 'Tell who runs the session.',
  },
  'baseline-missing': { action: 'Record a baseline with the jet on before the heating.' },
  'baseline-short': 'said',
  'baseline-unsteady': 'said',
  'chain-out-of-range': 'said',
  'channel-chosen': 'said',
  clipped: 'said',
  'coarse-resolution': 'said',
  'cooling-short': 'said',
  'dates-suspect': 'said',
  gaps: 'said',
  'header-repeated': 'said',
  'heated-again': 'said',
  'heating-missing': { action: 'Look whether the right file and channel were taken; else repeat the trial.' },
  'hum-heavy': 'said',
  // Its parameter may be the time constant, and its reason a number of seconds.
  'no-time-constant': {
    message: 'The cooling does not determine a time constant.',
    action: 'Repeat the trial, and keep recording through the cooling.',
  },
  // A delay beside its part of the fall is the time constant.
  'not-first-order': {
    message: 'The cooling departs from one exponential by more than the noise explains.',
  },
  'numbers-guessed': 'said',
  'peak-low': 'said',
  'peak-over-limit': 'said',
  'rate-disagrees': 'said',
  'rig-check-outside': 'said',
  'rig-check-stale': 'said',
  'samples-dropped': 'said',
  // Readings in a time constant, over their rate, are the time constant.
  'sampling-sparse': {
    message: 'There are few readings in the time that the cooling takes.',
    action: 'Let the logger take more readings a second.',
  },
  'sampling-uneven': 'said',
  spikes: 'said',
  'starts-hot': { action: 'Start recording well before the heating, with the jet on.' },
  'temperature-implausible': 'said',
  'time-assumed': 'said',
  'time-repaired': 'said',
  'unit-assumed': 'said',
  'zero-drift': { action: 'Read the zero again and the jet without heat, and wait until the jet is steady.' },
};

/** The same of what a trial has to pass while it is recorded. */
export const gateTellings: Readonly<Partial<Record<GateCode, GateTelling>>> = {
  'baseline-long': 'said',
  'baseline-steady': 'said',
  'target-reached': 'said',
  'limit-kept': 'said',
  // What it asks for is a number of time constants, in seconds.
  'cooling-clean': {
    message: {
      open: 'The clean cooling is not long enough yet.',
      met: 'The clean cooling is long enough.',
      close: 'The clean cooling is hardly long enough.',
      missed: 'The clean cooling was too short.',
    },
  },
  // Seconds to the end are what people at the bench wait for; they stay.
  'end-reached': 'said',
  'rate-planned': 'said',
  'converter-free': 'said',
  'readings-whole': 'said',
  'resolution-fine': 'said',
  'zero-steady': { mend: 'Read the zero again before the next trial, and let the chain warm up.' },
  'ambient-steady': 'said',
  'jet-steady': 'said',
  'time-constant-plausible': {
    message: {
      open: 'Whether the cooling is as quick as expected cannot be said yet.',
      met: 'The cooling is about as quick as expected.',
      close: 'The cooling is hardly as quick as expected.',
      missed: 'The cooling is not as quick as expected of this body and flow.',
    },
  },
  'body-plausible': {
    message: {
      open: 'Whether the cooling looks like that of the body cannot be said yet.',
      met: 'The cooling looks like that of the body.',
      close: 'The cooling may be that of another body.',
      missed: 'The cooling does not look like that of the body.',
    },
    mend: 'Look which body is in the jet, and whether the jet is on.',
  },
};

/** What is said of a recording, as far as a group may be told. */
export interface Said {
  readonly code: string;
  readonly severity: 'note' | 'caution' | 'repeat';
  readonly message: string;
  readonly action: string | null;
}

/** A remark as a group is told it before the release; null where it is not. */
export function toldRemark(remark: Said): Said | null {
  const telling = isRemark(remark.code) ? remarkTellings[remark.code] : undefined;
  if (telling === undefined) return null;
  return telling === 'said' ? remark : { ...remark, ...telling };
}

function isRemark(code: string): code is RemarkCode {
  return Object.hasOwn(remarkCatalogue, code);
}

/** A gate in the words of which a group is told. */
export type ToldGate = Pick<Gate, 'code' | 'state' | 'message' | 'mend'>;

/** A gate as a group is told it before the release; null where it is not. */
export function toldGate({ code, state, message, mend }: Gate): ToldGate | null {
  const telling = gateTellings[code];
  if (telling === undefined) return null;
  if (telling === 'said') return { code, state, message, mend };
  return {
    code,
    state,
    message: telling.message?.[state] ?? message,
    mend: mend === null ? null : (telling.mend ?? mend),
  };
}

/** What to do now, with the sentences of its gates as a group is told them. */
export function toldAdvice({ advice, gates }: Pick<TrialNow, 'advice' | 'gates'>): TrialNow['advice'] {
  const message = gates.reduce((said, gate) => {
    const told = toldGate(gate);
    const named = said.replaceAll(gate.message, () => told?.message ?? '');
    return gate.mend === null ? named : named.replaceAll(gate.mend, () => told?.mend ?? '');
  }, advice.message);
  return { ...advice, message: message.trim() };
}
