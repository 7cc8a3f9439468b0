import { ArmaFilter, dot, stepsBetween } from '../statistics/index.ts';
import type { DecayFit } from './fit-types.ts';
import { residualNoise } from './noise.ts';
import type { ArmaNoise } from './types.ts';

/** What a fit lets free of what the baseline says. */
export interface Freed {
  readonly level: boolean;
  readonly drift: boolean;
}

/** A fit with what it lets free. */
export interface FreedFit {
  readonly fit: DecayFit;
  readonly freed: Freed;
}

/** Fall of chi-square for one freed parameter that shows a conflict: about one good record in 500. */
const conflicting = 9.5;
/** A simpler fit is as good as a larger one that gains no more than this. */
const indifferent = 4;

/** Residuals are not believed below this part of the innovations. */
const rounding = 1e-6;

/**
 * The fit to be reported where the cooling contradicts what the baseline says of its level and drift: the
 * simplest one that the cooling does not contradict. The fits are compared by the squares of their whitened
 * residuals in units of the noise that the freest of them leaves, plus the squared pulls of their priors.
 *
 * @param known fit with both priors
 * @param candidates fits with one or both of them let free
 * @returns null where there is no conflict, or neither a level nor a drift by itself removes it
 */
export function conflictingFit(known: DecayFit, candidates: readonly FreedFit[]): FreedFit | null {
  const freest = candidates.find(({ freed }) => freed.level && freed.drift) ?? candidates[0];
  if (freest === undefined) return null;
  const { geometry, noise } = freest.fit;
  const own = residualNoise(
    freest.fit.residual,
    geometry.jacobian,
    geometry.positions,
    noise.blockWidth,
    rounding * noise.innovation,
  );
  const before = misfit(known, own);
  const costs = candidates.map((candidate) => ({ candidate, cost: misfit(candidate.fit, own) }));
  const of = (wanted: (freed: Freed) => boolean) => costs.filter(({ candidate }) => wanted(candidate.freed));
  const single = of((freed) => freed.level !== freed.drift).sort((a, b) => a.cost - b.cost);
  const both = of((freed) => freed.level && freed.drift)[0];
  const least = Math.min(single[0]?.cost ?? Number.POSITIVE_INFINITY, both?.cost ?? Number.POSITIVE_INFINITY);
  const simple = single[0];
  if (simple === undefined || before - simple.cost <= conflicting) return null;
  // A level and a drift that are needed together bend like a second exponential: no zero and no jet does that.
  if (simple.cost > least + indifferent) return null;
  // Where a freed level and a freed drift explain the cooling alike, neither is known.
  const rival = single[1];
  const alike = rival !== undefined && rival.cost < simple.cost + indifferent;
  return alike && both !== undefined ? both.candidate : simple.candidate;
}

/** Squared pulls of the priors, and a slow misfit, below which a conflict is not worth looking for. */
const unsuspicious = { pull: 3, slow: 9 };

/** Whether a fit is pulled off its priors or leaves slow residuals, as it must where they are wrong. */
export function conflictSuspected({ geometry, drift, slowMisfit }: DecayFit): boolean {
  const pull =
    geometry.ambientPull ** 2 * geometry.ambientPrecision +
    (drift * geometry.window) ** 2 * geometry.driftPrecision;
  return pull > unsuspicious.pull || (slowMisfit?.chiSquare ?? 0) > unsuspicious.slow;
}

function misfit(fit: DecayFit, noise: ArmaNoise): number {
  const { geometry } = fit;
  const filter = new ArmaFilter(fit.time.length, stepsBetween(geometry.positions));
  filter.prepare(noise.phi, noise.theta);
  const white = filter.whiten(fit.residual);
  const drift = fit.drift * geometry.window;
  return (
    dot(white, white) / noise.innovation ** 2 +
    geometry.ambientPull ** 2 * geometry.ambientPrecision +
    drift ** 2 * geometry.driftPrecision
  );
}
