import { type DecaySettings, usualDecaySettings } from '../decay/index.ts';
import { type Experiment, entryOf } from '../experiment/index.ts';

/**
 * How a trial is judged by the experiment file: the usual settings, and what the file says over them.
 *
 * @param experiment as read from its file; null for the usual settings
 * @param body its code; null, or one that the file does not have, for the protocol alone
 */
export function experimentDecaySettings(experiment: Experiment | null, body: string | null): DecaySettings {
  if (experiment === null) return usualDecaySettings;
  const { protocol, mains } = experiment;
  const own = body === null ? undefined : entryOf(experiment.bodies, body);
  const limits = [protocol.limit, own?.limit].filter((limit) => limit !== undefined);
  return {
    ...usualDecaySettings,
    mains,
    window: protocol.window,
    ambientOffset: protocol['ambient-offset'],
    drift: protocol.drift,
    shortestBaseline: protocol.baseline,
    target: own?.target ?? protocol.target ?? null,
    limit: limits.length > 0 ? Math.min(...limits) : null,
    endFraction: protocol['end-fraction'],
  };
}
