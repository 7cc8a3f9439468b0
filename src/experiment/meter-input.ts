import type { Meter, PredictionUncertainties } from '../prediction/index.ts';
import type { Experiment } from './schema-keys.ts';
import type { UncertainQuantity } from './written.ts';

/** 0 °C, K. */
const freezing = 273.15;
/** Stands where a meter does not use it. */
const unused = { pressure: 101_325, temperature: freezing };

/**
 * The flow meter with a reading, as the prediction takes it.
 *
 * @param reading m³/s, or kg/s for a mass meter
 * @returns null where the file describes no meter
 */
export function meterOf({ meter }: Experiment, reading: number): Meter | null {
  if (meter === undefined) return null;
  const reference =
    'reference' in meter
      ? {
          pressure: meter.reference.pressure.value,
          temperature: meter.reference.temperature + freezing,
        }
      : unused;
  const line =
    meter.line === undefined
      ? { pressure: { absolutePressure: unused.pressure }, temperature: unused.temperature }
      : { pressure: meter.line.pressure.pressure, temperature: meter.line.temperature.value + freezing };
  return { kind: meter.kind, reading, reference, line };
}

/**
 * Standard uncertainties of the meter: limits of error are the ends of an even distribution, so over √3 (JCGM
 * 100:2008, 4.3.7); what stands behind the reading itself is its own. Null for what the file does not state.
 *
 * @param reading as set, m³/s or kg/s
 */
export function meterUncertainties(
  { meter }: Experiment,
  reading: UncertainQuantity,
): Partial<Record<keyof PredictionUncertainties, number | null>> {
  const accuracy = meter?.accuracy;
  const limits =
    accuracy === undefined
      ? null
      : accuracy['of-reading'] * reading.value +
        accuracy['of-full-scale'] * (meter?.['full-scale']?.reading.value ?? 0);
  const fromLimits = limits === null ? null : limits / Math.sqrt(3);
  const own = reading.standardUncertainty;
  return {
    meterReading: own === null || fromLimits === null ? (own ?? fromLimits) : Math.hypot(own, fromLimits),
    linePressure: meter?.line?.pressure.standardUncertainty ?? null,
    lineTemperature: meter?.line?.temperature.standardUncertainty ?? null,
  };
}
