/**
 * Coverage of the 95 % interval of the forecast of a cooling's end, over simulated trials of the Thornwick course that
 * are fed to the watch second by second. From the root of the project:
 *
 *   npm run build && node build/bench-forecasting.js
 *
 * A number as argument is how many rigs make each condition once, 40 without it.
 */
import { forecastsOf, holds, type JudgedForecast } from '../test/live/forecasts.ts';
import { trialsOf } from '../test/live/trials.ts';

const rigs = Number(process.argv[2] ?? 40);
const fractions = [0.7, 0.5, 0.3, 0.2];
const conditions = [
  { body: 'brass-12', flow: '120' },
  { body: 'aluminium-12', flow: '120' },
  { body: 'aluminium-20', flow: '60' },
];
const judged: JudgedForecast[] = [];
for (const condition of conditions) {
  const found = Array.from({ length: rigs }, (_, rig) =>
    trialsOf(`forecasting ${rig}`, null, { conditions: [condition], rate: 10 }),
  )
    .flat()
    .flatMap((trial) => forecastsOf(trial, fractions));
  tell(`${condition.body} in ${condition.flow}`, found);
  judged.push(...found);
}
tell('all', judged);

function tell(what: string, found: readonly JudgedForecast[]): void {
  for (const fraction of fractions) {
    const own = found.filter((one) => one.fraction === fraction);
    const fits = own.filter(({ forecast }) => forecast.from === 'fit');
    const planned = own.filter(({ forecast }) => forecast.from === 'expected');
    const width = middle(fits, ({ forecast: { interval } }) => interval[1] - interval[0]);
    console.log(
      `${what}, at ${fraction}: ${middle(own, ({ remaining }) => remaining).toFixed(1)} s left; of ${fits.length} fits ${covered(fits, 'remaining')} cover it (by the junction alone ${covered(fits, 'remainingOfJunction')}), ${width.toFixed(2)} s wide; of ${planned.length} by plan ${covered(planned, 'remaining')}`,
    );
  }
}

function covered(some: readonly JudgedForecast[], by: 'remaining' | 'remainingOfJunction'): string {
  const share = some.filter((one) => holds(one.forecast, one[by])).length / some.length;
  return some.length === 0 ? 'none' : `${(100 * share).toFixed(0)} %`;
}

function middle(some: readonly JudgedForecast[], of: (one: JudgedForecast) => number): number {
  const sorted = some.map(of).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
