import type { CoolingTable } from './cooling-table.ts';
import { csvText } from './csv.ts';

/** The columns in their order; the last one takes the thinning along with the data. */
export const coolingColumns = [
  { name: 'time_s', unit: 's', meaning: 'From the hottest reading.' },
  { name: 'temperature_degC', unit: '°C', meaning: 'Mean of the readings of the row.' },
  {
    name: 'error_fraction',
    unit: '1',
    meaning: 'Excess over the ambient as a part of that of the hottest reading.',
  },
  {
    name: 'ln_error_fraction',
    unit: '1',
    meaning: 'Natural logarithm of it; empty where it is not above 0.',
  },
  { name: 'readings', unit: null, meaning: 'How many readings the row is the mean of.' },
] as const;

/**
 * The rows of a cooling as comma-separated values (RFC 4180): time from the hottest reading in s, temperature in °C,
 * error fraction, its natural logarithm where it is above 0, and how many readings the row is the mean of.
 */
export function coolingCsv({ rows, start, ambient }: CoolingTable): string {
  return csvText({
    columns: coolingColumns,
    rows: rows.map(({ time, temperature, readings }) => {
      const fraction = (temperature - ambient) / (start.temperature - ambient);
      const log = fraction > 0 ? Math.log(fraction) : null;
      return [time, temperature, rounded(fraction), log === null ? null : rounded(log), readings];
    }),
  });
}

/** Seven digits: finer than any converter. */
function rounded(value: number): number {
  return Number(value.toPrecision(7));
}
