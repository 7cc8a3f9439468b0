import type { Gate } from './types.ts';

/** A gate as it is written down: nothing to mend and nothing spoiled where that is left out. */
type GateWritten = Omit<Gate, 'mend' | 'spoils'> & Partial<Pick<Gate, 'mend' | 'spoils'>>;

/** A gate with every field, and no number that is none. */
export function gate({ mend = null, spoils = false, value, limit, ...rest }: GateWritten): Gate {
  return { ...rest, value: numberOrNull(value), limit: numberOrNull(limit), mend, spoils };
}

function numberOrNull(value: number | null): number | null {
  return value !== null && Number.isFinite(value) ? value : null;
}
