import type { BenchTile } from '../floor/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import { printable } from './terminal.ts';

/** What a bench is at, as `A1, brass-12 in 120, repeat 2`. */
export function benchWords({ group, condition, repeat, path }: BenchTile): string {
  const parts = [
    group,
    condition === null ? null : `${condition.body} in ${condition.flow}`,
    repeat === null ? null : `repeat ${repeat}`,
  ].filter((part) => part !== null);
  return printable(parts.length > 0 ? parts.join(', ') : (path ?? 'nothing recorded yet'));
}

/** How far its trial has come, as `cooling, 47.3 °C, error fraction 0.31, 23 s left (20 s to 27 s)`. */
export function trialWords({ trial }: BenchTile): string {
  if (trial === null) return 'waiting';
  const { phase, temperature, errorFraction, forecast } = trial;
  const parts: string[] = [phase];
  if (temperature !== null) parts.push(`${temperature.toFixed(1)} °C`);
  if (errorFraction !== null && (phase === 'cooling' || phase === 'done')) {
    parts.push(`error fraction ${fractionWords(errorFraction)}`);
  }
  if (forecast !== null) {
    const { remaining, interval, from } = forecast;
    const range = `(${leftWords(interval[0])} to ${leftWords(interval[1])})`;
    parts.push(`${leftWords(remaining)} left ${range}${from === 'expected' ? ' as planned' : ''}`);
  }
  return parts.join(', ');
}

function fractionWords(fraction: number): string {
  return fraction < 0.001 ? 'less than 0.001' : formatSignificant(fraction, 2);
}

/** A time to go, s: whole seconds, and minutes where there are many. */
function leftWords(time: number): string {
  if (!Number.isFinite(time)) return 'an unknown time';
  const whole = Math.max(0, Math.round(time));
  if (whole < 120) return `${whole} s`;
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
}
