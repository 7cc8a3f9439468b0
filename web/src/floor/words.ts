/** What a tile says, as words. */
import { formatSignificant } from '../../../src/quantity/index.ts';
import type { CallView, TileView, TrialView } from '../../../src/server/contract/index.ts';
import { conditionWords } from '../frame/names.ts';

export const deeds = {
  start: 'start heating',
  'go-on': 'go on',
  'heat-off': 'heat off',
  stop: 'stop',
  repeat: 'repeat',
} as const satisfies Readonly<Record<TrialView['advice']['action'], string>>;

/** What stands large on a tile: the group's code, else the bench's; in the view for a class what it measures. */
export function headWords({ bench, group, condition }: TileView, projector: boolean): string {
  if (!projector) return group ?? bench;
  return condition === null ? 'a bench' : conditionWords(condition.body, condition.flow);
}

/** What stands small beside it. */
export function besideWords({ bench, group, condition, repeat }: TileView, projector: boolean): string {
  const parts = [
    projector || group === null || group === bench ? null : bench,
    projector || condition === null ? null : conditionWords(condition.body, condition.flow),
    repeat === null ? null : `repeat ${repeat}`,
  ];
  return parts.filter((part) => part !== null).join(', ');
}

/** Whom a call is about. */
export function calledWords({ bench }: CallView, tiles: readonly TileView[]): string {
  const group = tiles.find((tile) => tile.bench === bench)?.group ?? null;
  return group === null || group === bench ? bench : `${group} at ${bench}`;
}

/** As 47.3 °C; three figures are read from afar. */
export function temperatureWords({ temperature }: TrialView): string {
  return temperature === null ? '' : `${temperature.toFixed(1).replace('-', '−')} °C`;
}

/** As 0.31; null where it means nothing. */
export function fractionWords({ phase, errorFraction }: TrialView): string | null {
  if (errorFraction === null || (phase !== 'cooling' && phase !== 'done')) return null;
  return errorFraction < 0.001 ? 'less than 0.001' : formatSignificant(errorFraction, 2);
}

/** Time to the end fraction, large and with its interval; null where nothing is waited for, or the trial is lost. */
export function remainingWords({
  phase,
  forecast,
  advice,
}: TrialView): { time: string; range: string } | null {
  if (forecast === null || phase === 'done' || advice.action === 'repeat') return null;
  const { remaining, interval, from } = forecast;
  const planned = from === 'expected' ? ', as planned' : '';
  return {
    time: remaining === null ? 'time left not known' : `${leftWords(remaining)} left`,
    range: `${rangeWords(leftWords(interval[0]), leftWords(interval[1]))}${planned}`,
  };
}

/** Both ends of an interval that is finer than they are written are the same. */
function rangeWords(least: string, most: string): string {
  return least === most ? 'to within 1 s' : `${least} to ${most}`;
}

function leftWords(time: number | null): string {
  if (time === null) return 'not known';
  const whole = Math.max(0, Math.round(time));
  if (whole < 120) return `${whole} s`;
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
}

/** What is amiss or will be, but for what the advice says already. */
export function remarksOf({ gates, advice }: TrialView): string[] {
  return gates
    .filter(
      ({ state, message }) => (state === 'missed' || state === 'close') && !advice.message.includes(message),
    )
    .map(({ message, mend }) => (mend === null ? message : `${message} ${mend}`));
}

/** A tile that shows nothing new for so long says so, s. */
const quietAfter = 5;

export function quietWords({ quiet, trial }: TileView): string | null {
  if (quiet === null || quiet < quietAfter || trial === null || trial.phase === 'done') return null;
  return `no reading for ${leftWords(quiet)}`;
}

/** Whether somebody heats, or has something hot before them, or is told to. */
export function isHot({ trial }: TileView): boolean {
  return (
    trial !== null &&
    (trial.advice.action === 'start' || trial.phase === 'heating' || trial.phase === 'cooling')
  );
}

/** Time of day of this machine, as 14:32:05. */
export function timeOfDay(at: number): string {
  return new Date(at).toTimeString().slice(0, 8);
}
