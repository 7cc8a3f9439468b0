import { version } from '../../src/version.ts';
import { faultSection, faultTargets } from './fault-report.ts';
import { forecastSection, forecastTargets } from './forecast-report.ts';
import { type Proof, recordingsIn } from './proof.ts';
import { falseAlarmSizes, remarkRows } from './remark-table.ts';
import { type Summary, summaryOf } from './summary.ts';
import { numberWithin, percent, percentWithin, signed, table } from './tables.ts';
import { cleanTargets, detectionTarget, intervalTargets, type TargetRow } from './targets.ts';

/** The targets of a run, each with its figure and a verdict. */
function targetsOf(proof: Proof): TargetRow[] {
  const lumped = proof.tried.filter(({ scenario }) => scenario.purpose === 'lumped');
  const departures = proof.tried.filter(({ scenario }) => scenario.detect !== null).map(summaryOf);
  return [
    ...intervalTargets(lumped, lumped.map(summaryOf)),
    ...cleanTargets(lumped),
    ...departures.map((one) => detectionTarget(`${one.scenario.detect}: over 90 %`, one)),
    ...faultTargets(proof.faults),
    ...forecastTargets(proof.forecasts),
  ];
}

/** The report as Markdown. */
export function reportOf(proof: Proof): string {
  const summaries = proof.tried.map(summaryOf);
  const of = (purpose: Summary['scenario']['purpose']) =>
    summaries.filter(({ scenario }) => scenario.purpose === purpose);
  const lumped = proof.tried.filter(({ scenario }) => scenario.purpose === 'lumped');
  const targets = targetsOf(proof);
  const sections = [
    `# Proof of the intervals

Made by \`npm run prove${proof.share < 1 ? ` -- --share ${proof.share}` : ''}\` with version ${version} and seed ${proof.seed}: ${recordingsIn(proof)} simulated recordings, each written as a logger writes it and read, cut, fitted and judged by the same code as \`emberline analyze\`. The analysis is told what an instructor knows of a bench (sensor, gain, zero, limit temperature) and nothing of the simulation. The simulator (\`src/practice/\`) solves the body's conduction, the stems and the chain of instruments numerically and shares no code with the estimators.

Brackets hold 95 % intervals: Wilson's for rates, Student's for means, chi-square for efficiencies. A target whose figure misses it while that interval reaches it is called missed, within chance.`,
    `## Targets\n\n${table(
      ['Target', 'Figure', 'Verdict'],
      targets.map(({ target, figure, verdict }) => [target, figure, verdict]),
    )}`,
    `## Intervals where one exponential describes the body

Truth is the slope of the noise-free reading between 0.9 and 0.1 of its step. Coefficient (5 %), jet (0.3 K), zero drift (0.5 K in 10 min), ambient and logger's dialect are drawn anew for every recording. Bias is the mean error of ln tau in units of its own standard uncertainty.

${table(scenarioHeads, of('lumped').map(scenarioRow))}`,
    `## Efficiency

The bound is the least standard uncertainty of ln tau (Cramér-Rao, with the priors on jet and drift counted as readings): noise known, amplitude and baseline free, jet against baseline 0.3 K, drift 0.5 K in 10 min, correlation taken in reading by reading. *Used* counts the readings from the fit's first on; *whole* all of them from the heat going off. The fit leaves out the first tenth of the fall (a twentieth for fast ones), where hot air may linger: that alone costs a fifth of the information. Only scenarios whose noise is Gaussian and of the signal have a known bound.

${table(
  ['Scenario', 'Bound of used, %', 'Root mean square error, %', 'Efficiency, used', 'Efficiency, whole'],
  of('lumped').flatMap((one) => efficiencyRow(one)),
)}`,
    `## Finding the parts

The heat going off within a tenth of the time constant, three points of the search or 0.15 s; the fit within the cooling; the noise-free reading risen by less than 0.5 % of the step at the end of the baseline, which holds at least half of what was recorded before the heating. In the middle of a body that conducts badly the moment the heat goes off does not show, so only lumped bodies are listed.

${table(
  ['Scenario', 'Heat off', 'Window', 'Baseline'],
  of('lumped').map(({ scenario, heatOff, window, baseline }) => [
    scenario.name,
    ...[heatOff, window, baseline].map((rate) => percentWithin(rate)),
  ]),
)}`,
    `## Remarks on clean recordings

Every remark on a lumped recording, but those that are right in its scenario (a short baseline on a short baseline). Notes do not count as alarms.

${table(['Remark', 'Severity', 'Recordings', '%'], remarkRows(lumped))}

${falseAlarmSizes(lumped)}`,
    `## Departures from one exponential

Biot numbers are h (V/A)/k. Truth is the slope between 0.9 and 0.1 here as well, so coverage says whether the interval still holds that slope.

${table(departureHeads, [...of('conducting'), ...of('stem')].map(departureRow))}`,
    `## What one recording cannot show

${table(scenarioHeads, of('hidden').map(scenarioRow))}

A coefficient that fluctuates bends a cooling no more than noise does; several recordings show it as scatter between them. These scenarios count in no target.`,
    faultSection(proof.faults),
    forecastSection(proof.forecasts),
  ];
  return `${sections.join('\n\n')}\n`;
}

const scenarioHeads = [
  'Scenario',
  'tau, s',
  'Recordings',
  'Coverage, %',
  'Bias, u',
  'Bias, %',
  'u, %',
  'rms, %',
  'Not first order, %',
  'Repeat, %',
  'Without',
];

function scenarioRow(one: Summary): string[] {
  const { scenario } = one;
  return [
    `${scenario.name}: ${scenario.about}`,
    one.timeConstant.toPrecision(3),
    String(one.notFirstOrder.of),
    percentWithin(one.coverage),
    numberWithin(one.bias),
    signed(100 * one.relativeBias.value, 2),
    percent(one.uncertainty, 2),
    percent(one.rootMeanSquare, 2),
    percent(one.notFirstOrder.value),
    percent(one.repeat.value),
    String(one.without),
  ];
}

function efficiencyRow({ scenario, efficiency, rootMeanSquare }: Summary): string[][] {
  if (efficiency === null) return [];
  return [
    [
      scenario.name,
      percent(rootMeanSquare * Math.sqrt(efficiency.used.value), 3),
      percent(rootMeanSquare, 3),
      numberWithin(efficiency.used),
      numberWithin(efficiency.whole),
    ],
  ];
}

const departureHeads = [
  'Scenario',
  'Biot',
  'tau, s',
  'Recordings',
  'Not first order, %',
  'Coverage, %',
  'Bias, %',
  'u, %',
];

function departureRow(one: Summary): string[] {
  return [
    `${one.scenario.name}: ${one.scenario.about}`,
    one.biot.toPrecision(2),
    one.timeConstant.toPrecision(3),
    String(one.notFirstOrder.of),
    percentWithin(one.notFirstOrder),
    percentWithin(one.coverage),
    signed(100 * one.relativeBias.value, 2),
    percent(one.uncertainty, 2),
  ];
}
