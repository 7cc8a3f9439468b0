import type { Blocks, Recording } from '../recording/index.ts';
import { standardDeviation } from '../statistics/index.ts';
import { ChainError, type ThermocoupleChain } from './chain.ts';
import { voltsPerUnit } from './channel-units.ts';

/** The zero of an amplifier, at the logger, V. */
export interface Zero {
  readonly volts: number;
  readonly standardUncertainty: number;
}

/**
 * The zero of a thermocouple chain: as given, or the mean of a recording with the input shorted.
 *
 * @throws ChainError where it is not a number, or its recording is empty or no voltage
 */
export function thermocoupleZero(chain: ThermocoupleChain): Zero {
  const measured =
    typeof chain.zero === 'number' ? { volts: chain.zero, standardUncertainty: 0 } : zeroOf(chain.zero);
  if (!Number.isFinite(measured.volts)) {
    throw new ChainError(
      'The zero of the amplifier is not a number; give what the logger shows with the input shorted.',
    );
  }
  return { ...measured, standardUncertainty: chain.zeroUncertainty ?? measured.standardUncertainty };
}

function zeroOf(recording: Recording): Zero {
  if (recording.blocks.length === 0) {
    throw new ChainError(`The zero recording ${recording.name} holds no readings; record it again.`);
  }
  const perUnit = voltsPerUnit(recording.channel);
  const { mean, standardError } = batchMean(recording.blocks);
  return { volts: mean * perUnit, standardUncertainty: Math.abs(standardError * perUnit) };
}

/** Stretches that a zero recording is cut into. */
const batches = 10;

/**
 * Mean of all samples, and its standard error from the scatter of the means of ten stretches: neighbours in noise
 * and drift are not independent, stretches nearly are (the method of batch means).
 */
function batchMean(blocks: Blocks): { mean: number; standardError: number } {
  const counts = new Float64Array(batches);
  const sums = new Float64Array(batches);
  for (let i = 0; i < blocks.length; i++) {
    const batch = Math.floor((i * batches) / blocks.length);
    counts[batch] = (counts[batch] ?? 0) + (blocks.count[i] ?? 0);
    sums[batch] = (sums[batch] ?? 0) + (blocks.count[i] ?? 0) * (blocks.mean[i] ?? 0);
  }
  const total = counts.reduce((a, b) => a + b, 0);
  const mean = sums.reduce((a, b) => a + b, 0) / total;
  if (blocks.length < batches) return { mean, standardError: 0 };
  const means = sums.map((sum, k) => sum / (counts[k] ?? 1));
  return { mean, standardError: standardDeviation(means) / Math.sqrt(batches) };
}
