import type { BaselineReading } from './baseline.ts';
import type { Freed } from './conflict.ts';
import { parameterCovariance } from './fit-propagation.ts';
import type { AmbientPrior, DecayFit } from './fit-types.ts';
import { figures } from './segment-words.ts';
import type { DecaySettings } from './settings.ts';
import type { Ambient } from './types.ts';

/** Where the fit takes the ambient from: what the settings say, and the cooling itself where there is no baseline. */
export function ambientPrior(settings: DecaySettings, baseline: BaselineReading | null): AmbientPrior {
  switch (settings.ambient.kind) {
    case 'given':
      return settings.ambient;
    case 'fitted':
      return { kind: 'fitted' };
    case 'baseline':
      return baseline === null
        ? { kind: 'fitted' }
        : { kind: 'baseline', offsetUncertainty: settings.ambientOffset };
  }
}

/** The ambient used, with its standard uncertainty, and why. */
export function ambientUsed(
  prior: AmbientPrior,
  fit: DecayFit,
  baseline: BaselineReading | null,
  settings: DecaySettings,
  freed: Freed | null = null,
): Ambient {
  if (freed?.level && baseline !== null) {
    const difference = fit.ambient - baseline.mean;
    return {
      value: fit.ambient,
      standardUncertainty: fittedAmbientUncertainty(fit),
      source: 'fitted',
      reason: `fitted to the cooling, because it tends to a level ${figures(Math.abs(difference), 2)} K ${difference > 0 ? 'above' : 'below'} the baseline`,
    };
  }
  if (prior.kind === 'given') {
    return {
      value: prior.value,
      standardUncertainty: prior.standardUncertainty,
      source: 'given',
      reason: 'given from outside the recording',
    };
  }
  if (prior.kind === 'baseline' && baseline !== null) {
    return {
      value: baseline.mean,
      standardUncertainty: Math.hypot(baseline.standardUncertainty, prior.offsetUncertainty),
      source: 'baseline',
      reason: `mean of ${baseline.duration.toFixed(1)} s before heating, on the same channel; the jet may differ from it by ${figures(prior.offsetUncertainty, 2)} K`,
    };
  }
  return {
    value: fit.ambient,
    standardUncertainty: fittedAmbientUncertainty(fit),
    source: 'fitted',
    reason:
      settings.ambient.kind === 'fitted'
        ? 'fitted to the cooling, as asked for'
        : 'fitted to the cooling, because nothing was recorded before the heating',
  };
}

/** Standard uncertainty of the ambient that a fit found, K. */
export function fittedAmbientUncertainty(fit: DecayFit): number {
  const covariance = parameterCovariance(fit.geometry, fit.noise);
  return Math.sqrt(Math.max(0, covariance[2 * fit.geometry.jacobian.length + 2] ?? Number.NaN));
}
