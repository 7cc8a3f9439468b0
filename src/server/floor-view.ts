import type { BenchTile, FloorNow } from '../floor/index.ts';
import type { FloorView, TileView, TrialView } from './contract/index.ts';

/**
 * The floor as it goes over the wire.
 *
 * @param only codes of the benches whose tiles go with it; all where left out
 */
export function floorViewOf(now: FloorNow, only: ReadonlySet<string> | null = null): FloorView {
  const { at, benches, calls, session, trouble } = now;
  return {
    at,
    names: benches.map(({ bench }) => bench),
    benches: benches.filter(({ bench }) => only === null || only.has(bench)).map(tileView),
    calls: calls.map((call) => ({ ...call })),
    session: { ...session, left: session.left.map((one) => ({ ...one })) },
    trouble,
  };
}

function tileView(tile: BenchTile): TileView {
  return {
    ...tile,
    trial: tile.trial === null ? null : trialView(tile.trial),
    trials: tile.trials.map((one) => ({ ...one })),
    rig: [...tile.rig],
  };
}

function trialView(trial: NonNullable<BenchTile['trial']>): TrialView {
  const { phase, since, time, temperature, errorFraction, heatOff, timeConstant, forecast } = trial;
  return {
    phase,
    since,
    time,
    temperature: finite(temperature),
    errorFraction: finite(errorFraction),
    heatOff,
    timeConstant:
      timeConstant === null
        ? null
        : { value: timeConstant.value, standardUncertainty: timeConstant.standardUncertainty },
    forecast:
      forecast === null
        ? null
        : {
            remaining: finite(forecast.remaining),
            interval: [finite(forecast.interval[0]), finite(forecast.interval[1])],
            from: forecast.from,
          },
    gates: trial.gates.map(({ code, state, message, mend, source }) => ({
      code,
      state,
      message,
      mend,
      source,
    })),
    advice: { ...trial.advice },
    series: {
      time: trial.series.time.map((value) => rounded(value)),
      temperature: trial.series.temperature.map((value) => (Number.isFinite(value) ? rounded(value) : null)),
    },
  };
}

/** JSON has no infinity. */
function finite(value: number | null): number | null {
  return value !== null && Number.isFinite(value) ? value : null;
}

/** A small picture shows no more. */
function rounded(value: number): number {
  return Math.round(value * 100) / 100;
}
