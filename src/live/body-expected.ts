import { coverageFactor, type Interval, usualCoverage } from '../quantity/index.ts';
import { choleskySolve } from '../statistics/index.ts';
import type { BodyCandidate } from './body-candidate.ts';
import {
  covariance,
  type EarlierRun,
  effectsOn,
  type KnownRuns,
  knownRuns,
  trialScatter,
} from './earlier-runs.ts';

/** What a body would show on this bench, after what was measured before. */
export interface ExpectedBody {
  readonly body: string;
  readonly flow: string;
  /** s */
  readonly expected: number;
  /** Standard uncertainty of ln tau of one trial, without the noise of its own readings. */
  readonly relative: number;
  /** What a trial would show with a probability of 95 %, s. */
  readonly interval: Interval;
  /** Earlier runs of this very body in this flow. */
  readonly runs: number;
}

/**
 * What each candidate would show on a bench: a normal distribution of ln tau with the covariances of the predictions,
 * conditioned on the runs that were made before. The rig's own heat transfer, which a correlation may miss by a
 * seventh, drops out as soon as one body has been measured; what remains is what sets bodies apart.
 *
 * @param candidates bodies that may be in the jet
 * @param bench that the trial is made on; null where there is only one
 * @param earlier runs in any condition of the rig; those that the others contradict are not believed
 */
export function expectedBodies(
  candidates: readonly BodyCandidate[],
  bench: string | null,
  earlier: readonly EarlierRun[],
): ExpectedBody[] {
  const known = knownRuns(earlier);
  return candidates
    .filter(({ predicted }) => predicted > 0 && Number.isFinite(predicted))
    .map((candidate) => expectedBody(candidate, bench, known));
}

function expectedBody(candidate: BodyCandidate, bench: string | null, known: KnownRuns | null): ExpectedBody {
  const own = effectsOn(candidate, bench);
  let shift = 0;
  let variance = covariance(own, own);
  if (known !== null) {
    const beside = Float64Array.from(known.effects, (effects) => covariance(own, effects));
    const weights = Float64Array.from(beside);
    choleskySolve(known.factor, weights.length, weights);
    beside.forEach((c, i) => {
      shift += c * (known.weighed[i] ?? 0);
      variance -= c * (weights[i] ?? 0);
    });
  }
  const { body, flow, predicted } = candidate;
  const expected = predicted * Math.exp(shift);
  const relative = Math.sqrt(Math.max(0, variance) + trialScatter ** 2);
  const factor = Math.exp(coverageFactor(Number.POSITIVE_INFINITY, usualCoverage) * relative);
  const same = known?.runs.filter((run) => run.candidate.body === body && run.candidate.flow === flow);
  return {
    body,
    flow,
    expected,
    relative,
    interval: [expected / factor, expected * factor],
    runs: same?.length ?? 0,
  };
}
