/**
 * Coverage of the 95 % interval of the exponential fit, its bias, and the false alarms of the adequacy tests,
 * over simulated recordings. Compile and run with
 * `npm run build && node build/bench-coverage.js 400`.
 */
import { fitDecay } from '../src/decay/index.ts';
import { type Scenario, scenario, simulate, turbulence } from '../test/decay/simulated.ts';

const drift = 0.5 / 600;
const cases: readonly Scenario[] = [
  { ...scenario, name: 'b.5 white', timeConstant: 0.5, length: 8, rate: 1000 },
  { ...scenario, name: 'b.5 OU.3/.1', timeConstant: 0.5, length: 8, rate: 1000, correlated: [[0.3, 0.1]] },
  { ...scenario, name: 'b.5 OU1/.5', timeConstant: 0.5, length: 8, rate: 1000, correlated: [[1, 0.5]] },
  { ...scenario, name: 'b1 hum 1', timeConstant: 1, length: 8, rate: 1000, correlated: [[0.3, 0.1]], hum: 1 },
  { ...scenario, name: 'b2 OU.3/.3', timeConstant: 2, length: 6, correlated: [[0.3, 0.3]] },
  { ...scenario, name: 's40 white' },
  { ...scenario, name: 's40 OU.3/.5', correlated: [[0.3, 0.5]] },
  { ...scenario, name: 's40 OU1/1', correlated: [[1, 1]], white: 0.5 },
  { ...scenario, name: 's40 -5/3', correlated: turbulence },
  { ...scenario, name: 's40 hum .5', correlated: [[0.3, 0.5]], hum: 0.5 },
  { ...scenario, name: 's40 off+drift', correlated: [[0.3, 0.5]], offset: 0.35, drift },
  { ...scenario, name: 's40 cut .2 off+dr', length: 1.6, correlated: [[0.3, 0.5]], offset: 0.35, drift },
  {
    ...scenario,
    name: 's160 off+dr 3tau',
    timeConstant: 160,
    length: 3,
    correlated: [[0.3, 1]],
    offset: 0.35,
    drift,
  },
];

const repetitions = Number(process.argv[2] ?? 400);
const mostBlocks = Number(process.argv[3] ?? 1000);
const firstSeed = Number(process.argv[4] ?? 1);
console.log(
  'case                 n   cover core/gated/always  rms%   bias%   u%    nu   chi2>lim  phi   ms  failed',
);
for (const s of cases) {
  let failed = 0;
  let blocks = 0;
  const covered = { never: 0, gated: 0, always: 0 };
  let gate = 0;
  let phi = 0;
  let spent = 0;
  const errors: number[] = [];
  const us: number[] = [];
  const nus: number[] = [];
  for (let k = 0; k < repetitions; k++) {
    const input = simulate(s, firstSeed + 7919 * k, mostBlocks);
    blocks = input.time.length;
    for (const slowMisfit of ['never', 'gated', 'always'] as const) {
      const from = performance.now();
      const fit = fitDecay({ ...input, slowMisfit });
      if (slowMisfit === 'gated') spent += performance.now() - from;
      if (fit.kind === 'failed') {
        if (slowMisfit === 'gated') failed++;
        continue;
      }
      if (fit.interval[0] <= s.timeConstant && s.timeConstant <= fit.interval[1]) covered[slowMisfit]++;
      if (slowMisfit !== 'gated') continue;
      errors.push(fit.lnTimeConstant - Math.log(s.timeConstant));
      us.push(fit.relativeUncertainty);
      nus.push(fit.degreesOfFreedom);
      if (fit.slowMisfit?.added) gate++;
      phi += fit.noise.phi;
    }
  }
  const done = errors.length;
  const mean = (v: readonly number[]) => v.reduce((a, b) => a + b, 0) / v.length;
  const percent = (v: number, digits = 1) => (100 * v).toFixed(digits);
  console.log(
    [
      s.name.padEnd(19),
      String(blocks).padStart(4),
      `${percent(covered.never / done)} / ${percent(covered.gated / done)} / ${percent(covered.always / done)}`.padEnd(
        22,
      ),
      percent(Math.sqrt(mean(errors.map((e) => e * e))), 3),
      percent(mean(errors), 3).padStart(7),
      percent(mean(us), 3),
      [...nus]
        .sort((a, b) => a - b)
        [Math.floor(done / 2)]?.toFixed(0)
        .padStart(5),
      percent(gate / done, 0).padStart(4),
      (phi / done).toFixed(3),
      (spent / repetitions).toFixed(1),
      failed,
    ].join('  '),
  );
}
