import type { BenchTile, FloorNow } from '../floor/index.ts';
import type { MineNow, MineTrial } from './contract/index.ts';
import { toldAdvice, toldGate } from './told.ts';

/** Where a group works. */
export interface OwnBench {
  readonly group: string;
  /** Null where the experiment file names none. */
  readonly bench: string | null;
}

/** Codes of the tiles that a group's view is made from. */
export function ownTiles(now: FloorNow, own: OwnBench): readonly string[] {
  return now.benches.filter((tile) => isOwnTrial(tile, own) || isOwnRig(tile, own)).map(({ bench }) => bench);
}

/** The bench of a group at this moment: its own trial, never that of another group there, and no time constant. */
export function mineNowOf(now: FloorNow, own: OwnBench): MineNow {
  const tile = now.benches.find((one) => isOwnTrial(one, own)) ?? null;
  const rig = now.benches.find((one) => isOwnRig(one, own))?.rig ?? tile?.rig ?? [];
  return {
    at: now.at,
    condition: tile?.condition ?? null,
    repeat: tile?.repeat ?? null,
    trial: tile?.trial ? toldTrial(tile.trial) : null,
    trouble: tile?.trouble ?? null,
    quiet: tile?.quiet ?? null,
    rig: [...rig],
    elapsed: now.session.elapsed,
    remaining: now.session.remaining,
  };
}

function isOwnTrial(tile: BenchTile, { group, bench }: OwnBench): boolean {
  if (tile.group !== null) return tile.group === group;
  return tile.bench === group || (bench !== null && tile.bench === bench);
}

function isOwnRig(tile: BenchTile, { bench }: OwnBench): boolean {
  return bench !== null && tile.bench === bench;
}

/** A trial without what the group is to find out; seconds are whole, as somebody at a bench counts them. */
function toldTrial(trial: NonNullable<BenchTile['trial']>): MineTrial {
  const { phase, time, temperature, errorFraction, heatOff, forecast, series } = trial;
  return {
    phase,
    time: Math.round(time),
    temperature: rounded(temperature, 0.1),
    errorFraction: rounded(errorFraction, 0.01),
    heatOff,
    forecast:
      forecast === null
        ? null
        : {
            remaining: rounded(forecast.remaining, 1),
            interval: [rounded(forecast.interval[0], 1), rounded(forecast.interval[1], 1)],
            from: forecast.from,
          },
    gates: trial.gates.flatMap((gate) => toldGate(gate) ?? []),
    advice: toldAdvice(trial),
    series: {
      time: series.time.map((value) => rounded(value, 0.1) ?? 0),
      temperature: series.temperature.map((value) => rounded(value, 0.1)),
    },
  };
}

/** To a whole number of steps; JSON has no infinity. */
function rounded(value: number | null, step: number): number | null {
  if (value === null || !Number.isFinite(value)) return null;
  return Number((Math.round(value / step) * step).toFixed(step < 1 ? 2 : 0));
}
