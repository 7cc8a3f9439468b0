/**
 * A number for a sentence.
 *
 * @param x any number
 * @param digits significant figures, 1 to 6
 */
export function figures(x: number, digits = 3): string {
  const rounded = Number(x.toPrecision(digits));
  return Number.isFinite(rounded) ? String(rounded).replace('-', '−') : 'unknown';
}

/**
 * A length of time as it is spoken: `8 s`, `40 s`, `2 min 10 s`, `12 min`.
 *
 * @param seconds at least 0
 */
export function spokenTime(seconds: number): string {
  if (!Number.isFinite(seconds)) return 'an unknown time';
  if (seconds < 9.95) return `${figures(Math.max(0, seconds), 2)} s`;
  const whole = Math.round(seconds);
  if (whole < 90) return `${whole} s`;
  const minutes = Math.floor(whole / 60);
  const rest = Math.round((whole % 60) / 10) * 10;
  if (minutes >= 10 || rest === 0) return `${Math.round(whole / 60)} min`;
  return rest === 60 ? `${minutes + 1} min` : `${minutes} min ${rest} s`;
}
