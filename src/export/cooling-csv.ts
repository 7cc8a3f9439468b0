import type { CoolingTable } from './cooling-table.ts';
import { csvText } from './csv.ts';

/** `readings` says of how many readings a row is the mean, so that the thinning goes with the data. */
const names = ['time_s', 'temperature_degC', 'error_fraction', 'ln_error_fraction', 'readings'] as const;

/**
 * The rows of a cooling as comma-separated values (RFC 4180): time from the hottest reading in s, temperature in °C,
 * error fraction, its natural logarithm where it is above 0, and how many readings the row is the mean of.
 */
export function coolingCsv({ rows, start, ambient }: CoolingTable): string {
  return csvText({
    columns: names.map((name) => ({ name })),
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
