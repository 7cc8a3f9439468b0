import type { ChainUncertainty } from '../sensing/index.ts';
import type { DecayFit } from './fit-types.ts';
import type { DecaySettings } from './settings.ts';
import type { BudgetLine, BudgetSource } from './types.ts';

/** The uncertainty of the time constant from all sources. */
export interface Budget {
  /** Standard uncertainty of ln tau. */
  readonly relative: number;
  readonly degreesOfFreedom: number;
  /** Every source, the largest first; shares add up to 1. */
  readonly lines: readonly BudgetLine[];
}

const labels: Readonly<Record<BudgetSource, string>> = {
  noise: 'noise of the readings',
  ambient: 'ambient',
  drift: 'drift',
  'start-and-window': 'start and window',
  'time-base': 'time base',
  chain: 'sensor chain',
};

/**
 * Puts together what the fit knows (noise, ambient, drift, slow wandering) and what it cannot see: the clock and
 * the sensor chain.
 *
 * A slow departure from one exponential makes the result depend on where the window starts and ends, so it
 * stands as 'start and window'. The chain enters by the bend of its scale; its offset and its scale factor
 * cancel in the error fraction as long as the ambient is read on the same channel, and count where the ambient
 * is given from elsewhere. Degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, equation G.2b), the
 * sources outside the fit being taken as well known.
 *
 * @param fit of the cooling
 * @param chain of the trace
 */
export function budgetOf(fit: DecayFit, chain: ChainUncertainty, settings: DecaySettings): Budget {
  const { contributions } = fit;
  const relative: Record<BudgetSource, number> = {
    noise: contributions.noise,
    ambient: Math.hypot(contributions.ambientLevel, contributions.ambientOffset),
    drift: contributions.drift,
    'start-and-window': contributions.slowMisfit,
    'time-base': settings.timeBase,
    chain: chainContribution(fit, chain, settings),
  };
  const variance = Object.values(relative).reduce((sum, u) => sum + u * u, 0);
  const inside = fit.relativeUncertainty ** 2;
  const lines = budgetSources.map((source): BudgetLine => {
    const u = relative[source];
    return {
      source,
      label: labels[source],
      contribution: u * fit.timeConstant,
      share: variance > 0 ? (u * u) / variance : 0,
    };
  });
  return {
    relative: Math.sqrt(variance),
    degreesOfFreedom: inside > 0 ? fit.degreesOfFreedom * (variance / inside) ** 2 : Number.POSITIVE_INFINITY,
    lines: lines.sort((a, b) => b.share - a.share),
  };
}

const budgetSources = ['noise', 'ambient', 'drift', 'start-and-window', 'time-base', 'chain'] as const;

/** Standard uncertainty of ln tau from the sensor chain. */
function chainContribution(fit: DecayFit, chain: ChainUncertainty, settings: DecaySettings): number {
  // A scale that is right at both ends and off by the nonlinearity in the middle: a parabola over the span.
  let bend = 0;
  for (let i = 0; i < fit.time.length; i++) {
    const fraction = Math.exp(-((fit.time[i] ?? Number.NaN) - fit.start) / fit.timeConstant);
    bend += 4 * fraction * (1 - fraction) * (fit.sensitivity[i] ?? Number.NaN);
  }
  const nonlinearity = Math.abs(bend) * chain.nonlinearity;
  if (settings.ambient.kind !== 'given') return nonlinearity;
  const ambientError = Math.hypot(chain.offset, chain.scale * settings.ambient.value);
  return Math.hypot(nonlinearity, Math.abs(fit.ambientSensitivity) * ambientError);
}
