/** A time constant as Nusselt against Reynolds number. */
export interface NusseltTrial {
  /** Null where there is only one rig. */
  readonly bench: string | null;
  readonly body: string;
  readonly flow: string;
  readonly reynolds: number;
  readonly nusselt: number;
  /** Standard uncertainty of ln Nu from what differs from trial to trial. */
  readonly own: number;
  /** What one standard uncertainty of a cause moves ln Re and ln Nu by; causes of one name are one and the same. */
  readonly effects: readonly NusseltEffect[];
}

/** What a cause does to a point. */
export interface NusseltEffect {
  readonly cause: string;
  readonly reynolds: number;
  readonly nusselt: number;
}

/** The mean of all trials that are alike in bench, body and flow. */
export interface CorrelationCell {
  readonly bench: string | null;
  readonly body: string;
  readonly flow: string;
  readonly trials: number;
  readonly reynolds: number;
  readonly nusselt: number;
  /** ln of Nu, or of Nu - 2. */
  readonly height: number;
  /** Standard uncertainty of `height` from what differs from trial to trial. */
  readonly own: number;
  readonly effects: readonly NusseltEffect[];
}

/**
 * Means of ln Re and ln (Nu - floor) of trials that are alike.
 *
 * @param floor what is taken from Nu before its logarithm; all Nu lie above
 */
export function cellsOf(trials: readonly NusseltTrial[], floor: number): CorrelationCell[] {
  const groups = new Map<string, NusseltTrial[]>();
  for (const trial of trials) {
    const name = JSON.stringify([trial.bench, trial.body, trial.flow]);
    groups.set(name, [...(groups.get(name) ?? []), trial]);
  }
  return [...groups.values()].flatMap((own): CorrelationCell[] => {
    const [first] = own;
    if (first === undefined) return [];
    const mean = (of: (trial: NusseltTrial) => number) =>
      own.reduce((sum, trial) => sum + of(trial), 0) / own.length;
    const height = mean(({ nusselt }) => Math.log(nusselt - floor));
    const nusselt = floor + Math.exp(height);
    // ln (Nu - floor) moves by more than ln Nu.
    const stretch = nusselt / (nusselt - floor);
    const { bench, body, flow } = first;
    return [
      {
        bench,
        body,
        flow,
        trials: own.length,
        reynolds: Math.exp(mean(({ reynolds }) => Math.log(reynolds))),
        nusselt,
        height,
        own: stretch * Math.sqrt(mean((trial) => trial.own ** 2) / own.length),
        effects: first.effects.map((one) => ({ ...one, nusselt: one.nusselt * stretch })),
      },
    ];
  });
}
