import type { Decay } from '../decay/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import { grouped } from './words.ts';

/** What the noise of the readings is like, in half a sentence; null where it is not known. */
export function noiseWords({ noise, independentReadings, window }: Decay): string | null {
  if (noise === null) return null;
  const parts = [`${milli(noise.deviation)} a reading`];
  if (noise.correlated > 0) {
    parts.push(
      `${milli(noise.correlated)} of it lasts ${noise.correlationTime.toPrecision(2)} s from reading to reading`,
    );
  }
  if (noise.hum.amplitude !== null && noise.hum.amplitude > 0.1 * noise.deviation) {
    parts.push(`mains hum of ${milli(noise.hum.amplitude)}`);
  }
  if (noise.step !== null) parts.push(`converter step ${milli(noise.step)}`);
  if (independentReadings !== null && window !== null) {
    parts.push(`the cooling is worth about ${grouped(independentReadings)} independent readings`);
  }
  return parts.join('; ');
}

/** A temperature difference, in K or mK. */
function milli(kelvin: number): string {
  return kelvin < 0.095 ? `${formatSignificant(1000 * kelvin, 2)} mK` : `${formatSignificant(kelvin, 2)} K`;
}
