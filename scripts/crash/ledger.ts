import { createHash } from 'node:crypto';

/** Everything that a server said was done, and everything that was ever sent to it. */
export class Ledger {
  /** SHA-256 by path of what was acknowledged as kept: recordings and sheets. */
  readonly kept = new Map<string, string>();
  /** SHA-256 of every recording that was sent, whether that was acknowledged or not. */
  readonly sent = new Set<string>();
  /** Of these, what must be a recording by now, wherever. */
  readonly keptSomewhere = new Set<string>();
  /** Who signed an acknowledged decision, by the recording's path. */
  readonly decisions = new Map<string, string[]>();
  /** Who signed acknowledged checks and releases. */
  readonly checks = new Set<string>();
  readonly releases = new Set<string>();
  /** Notes of acknowledged values, by the path of their sheet. */
  readonly values = new Map<string, string>();
  /** The last text of the experiment file that was acknowledged, and one that may have been written since. */
  experiment: string;
  underWay: string | null = null;
  /** How often each thing was acknowledged, refused, or broken off. */
  readonly counts = new Map<string, { done: number; refused: number; broken: number }>();
  /** All that was acknowledged, together. */
  acknowledged = 0;
  /** Answers that no server should give. */
  readonly faults: string[] = [];

  constructor(experiment: string) {
    this.experiment = experiment;
  }

  count(deed: string, outcome: 'done' | 'refused' | 'broken'): void {
    const counts = this.counts.get(deed) ?? { done: 0, refused: 0, broken: 0 };
    counts[outcome] += 1;
    this.counts.set(deed, counts);
    if (outcome === 'done') this.acknowledged += 1;
  }
}

/** SHA-256 in hexadecimal. */
export function sha256(bytes: string | Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
