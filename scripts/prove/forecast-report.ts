import { forecastFrom } from './forecast-cases.ts';
import type { ForecastTried, Foretold } from './forecast-outcome.ts';
import { type Rate, rateOf } from './rates.ts';
import type { Scenario } from './scenario.ts';
import { percent, percentWithin, table } from './tables.ts';
import { type TargetRow, verdictOn } from './targets.ts';

/** The moments that a forecast is held against. */
type Moment = 'finished' | 'sameStart' | 'truth';

/** One row of the table: the forecasts of one kind that were made at one error fraction. */
interface ForecastSummary {
  readonly scenario: Scenario;
  readonly errorFraction: number;
  /** Root mean square error against the finished recording, as a part of what remains. */
  readonly error: number;
  readonly coverage: Readonly<Record<Moment, Rate>>;
  readonly without: Rate;
}

function summariesOf(tried: readonly ForecastTried[]): ForecastSummary[] {
  return tried.flatMap(({ scenario, outcomes }) =>
    forecastFrom.map((errorFraction, i): ForecastSummary => {
      const own = outcomes.flatMap(({ forecasts }) => forecasts.slice(i, i + 1));
      const errors = own.flatMap(({ forecast, finished }) =>
        forecast === null || finished === null ? [] : [(forecast.remaining - finished) / finished],
      );
      return {
        scenario,
        errorFraction,
        error: Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length),
        coverage: {
          finished: coverageOf(own, 'finished'),
          sameStart: coverageOf(own, 'sameStart'),
          truth: coverageOf(own, 'truth'),
        },
        without: rateOf(own.filter(({ forecast }) => forecast === null).length, own.length),
      };
    }),
  );
}

function coverageOf(foretold: readonly Foretold[], moment: Moment): Rate {
  const inside = foretold.flatMap(({ forecast, [moment]: came }) =>
    forecast === null || came === null || Number.isNaN(came)
      ? []
      : [forecast.interval[0] <= came && came <= forecast.interval[1]],
  );
  return rateOf(inside.filter(Boolean).length, inside.length);
}

/** The target for the forecast's intervals. */
/** Fewer forecasts say nothing of how often they hold. */
const fewestForecasts = 20;

export function forecastTargets(tried: readonly ForecastTried[]): TargetRow[] {
  const target = `Coverage of the live forecast wherever there are ${fewestForecasts}: at least 90 %`;
  const wanted = { low: 0.9, high: 1 };
  const summaries = summariesOf(tried).filter(({ coverage }) => coverage.finished.of >= fewestForecasts);
  if (summaries.length === 0) return [{ target, figure: '–', verdict: 'not measured' }];
  const beyond = ({ coverage: { finished } }: ForecastSummary) =>
    Math.max(wanted.low - finished.value, finished.value - wanted.high);
  const [worst] = summaries.toSorted((a, b) => beyond(b) - beyond(a));
  if (worst === undefined) return [];
  const outside = summaries.filter((one) => beyond(one) > 0);
  return [
    {
      target,
      figure: `${percentWithin(worst.coverage.finished)}, ${nameOf(worst)} from ${worst.errorFraction}; outside in ${outside.length} of ${summaries.length}`,
      verdict: verdictOn(worst.coverage.finished, wanted),
    },
  ];
}

function nameOf({ scenario }: ForecastSummary): string {
  return scenario.name.replace('forecast ', '');
}

/** The section on the forecast. */
export function forecastSection(tried: readonly ForecastTried[]): string {
  return `## Forecast of the end

What a bench is told while it cools: when the error fraction will be 0.1. Each recording is cut off where its noise-free reading has come to an error fraction, read and analyzed from there, and its forecast is held against the moment at which the finished recording, of four time constants, comes to 0.1 by its own analysis: its heat-off and its time constant. That is the clock which the people at the bench will see. It leaves out that both may find the heat-off wrongly, and in the same way; *by the true reading* is the coverage of the moment at which the noise-free reading has really fallen to a tenth of its step, and *by tau alone* that of the found heat-off with the true time constant. The error is the root mean square as a part of the time that was left.

${table(
  [
    'Scenario',
    'From',
    'Error of what is left, %',
    'Coverage, %',
    'By tau alone, %',
    'By the true reading, %',
    'Without, %',
  ],
  summariesOf(tried).map((one) => [
    `${nameOf(one)}: ${one.scenario.about}`,
    one.errorFraction.toFixed(1),
    percent(one.error),
    percentWithin(one.coverage.finished),
    percentWithin(one.coverage.sameStart),
    percentWithin(one.coverage.truth),
    percent(one.without.value),
  ]),
)}`;
}
