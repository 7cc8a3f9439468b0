/**
 * False alarms and detection of the tests of the first-order model over simulated recordings. Compile and run
 * with `npm run build && node build/bench-adequacy.js 200`.
 */
import { fitDecay, judgeAdequacy } from '../src/decay/index.ts';
import {
  hotAir,
  rateChange,
  type Scenario,
  scenario,
  simulate,
  sphereCentre,
  turbulence,
  twoExponentials,
} from '../test/decay/simulated.ts';

const drift = 0.5 / 600;
const calm: Scenario = { ...scenario, correlated: [[0.3, 0.5]], offset: 0.35, drift };
const bead: Scenario = {
  ...scenario,
  timeConstant: 0.5,
  length: 8,
  rate: 1000,
  correlated: [[0.3, 0.1]],
  offset: 0.35,
};
const cases: readonly Scenario[] = [
  { ...scenario, name: 'white' },
  { ...calm, name: 'n1' },
  { ...calm, name: 'n2', correlated: [[1, 1]], white: 0.5 },
  { ...calm, name: '-5/3', correlated: turbulence },
  { ...calm, name: 's160 3tau', timeConstant: 160, length: 3, correlated: [[0.3, 1]] },
  { ...calm, name: 'cut .2', length: 1.6 },
  { ...bead, name: 'b.5' },
  { ...bead, name: 'b.5 n2', correlated: [[1, 0.5]] },
  { ...bead, name: 'b2', timeConstant: 2, length: 6, correlated: [[0.3, 0.3]] },
  { ...calm, name: 'Bi .15', shape: sphereCentre(0.15) },
  { ...calm, name: 'Bi .3', shape: sphereCentre(0.3) },
  { ...calm, name: 'Bi .3 n2', correlated: [[1, 1]], shape: sphereCentre(0.3) },
  { ...calm, name: 'Bi .9', shape: sphereCentre(0.9) },
  { ...calm, name: '5% tau/5', shape: twoExponentials(0.05, 0.2) },
  { ...calm, name: '10% tau/5', shape: twoExponentials(0.1, 0.2) },
  { ...calm, name: '5% 3tau', shape: twoExponentials(0.05, 3) },
  { ...calm, name: '10% 3tau', shape: twoExponentials(0.1, 3) },
  { ...calm, name: '10% 3tau n2', correlated: [[1, 1]], shape: twoExponentials(0.1, 3) },
  { ...calm, name: 'air .5 s', shape: hotAir(0.5 / 40) },
  { ...calm, name: 'rate +10% at 1', shape: rateChange(1, 0.1) },
  { ...calm, name: 'rate -10% at 1', shape: rateChange(1, -0.1) },
  { ...bead, name: 'b1 air .5', timeConstant: 1, shape: hotAir(0.5) },
  { ...bead, name: 'b1 10% 3tau', timeConstant: 1, shape: twoExponentials(0.1, 3) },
];

const repetitions = Number(process.argv[2] ?? 200);
const mostBlocks = Number(process.argv[3] ?? 1000);
const names = [
  'curvature',
  'second-exponential',
  'back-extrapolation',
  'early-against-late',
  'ratio-90-to-50',
] as const;
console.log(
  'case            rejected untested  curv  2exp  back  e/l  ratio   E %    u_E %  e/l    R   u_R   tau bias % u %  kinds',
);
for (const s of cases) {
  let rejected = 0;
  let untested = 0;
  let done = 0;
  const fails = new Map<string, number>();
  const kinds = new Map<string, number>();
  const sums = new Array<number>(7).fill(0);
  for (let k = 0; k < repetitions; k++) {
    const input = simulate(s, 1 + 7919 * k, mostBlocks);
    const fit = fitDecay(input);
    if (fit.kind === 'failed') continue;
    done++;
    const adequacy = judgeAdequacy({ fit, early: { heatOff: input.heatOff, ...input.early } });
    if (adequacy.firstOrder === false) rejected++;
    if (adequacy.firstOrder === null) untested++;
    for (const test of adequacy.tests) if (test.fails) fails.set(test.name, (fails.get(test.name) ?? 0) + 1);
    if (adequacy.kind) kinds.set(adequacy.kind, (kinds.get(adequacy.kind) ?? 0) + 1);
    const numbers = [
      adequacy.backExtrapolation?.value,
      adequacy.backExtrapolation?.standardUncertainty,
      adequacy.earlyOverLate?.value,
      adequacy.ratio90to50?.value,
      adequacy.ratio90to50?.standardUncertainty,
      fit.lnTimeConstant - Math.log(s.timeConstant),
      fit.relativeUncertainty,
    ];
    numbers.forEach((v, i) => {
      sums[i] = (sums[i] ?? 0) + (v ?? Number.NaN);
    });
  }
  const percent = (v: number) => ((100 * v) / done).toFixed(0).padStart(5);
  const mean = (i: number, factor: number, digits: number) =>
    ((factor * (sums[i] ?? 0)) / done).toFixed(digits).padStart(6);
  console.log(
    s.name.padEnd(15),
    percent(rejected),
    percent(untested).padStart(8),
    '  ',
    ...names.map((name) => percent(fails.get(name) ?? 0)),
    mean(0, 100, 2),
    mean(1, 100, 2),
    mean(2, 1, 3),
    mean(3, 1, 3),
    mean(4, 1, 3),
    mean(5, 100, 2),
    mean(6, 100, 2),
    '  ',
    [...kinds].map(([kind, count]) => `${kind} ${count}`).join(', '),
  );
}
