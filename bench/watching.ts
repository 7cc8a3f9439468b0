/**
 * What watching a trial costs: CPU time of `TrialWatch` per recorded second, by phase, for simulated trials of the
 * Thornwick course that it is shown twice a second, on at most as many blocks as the bench floor takes. From the root
 * of the project:
 *
 *   npm run build && node build/bench-watching.js
 *
 * A number as argument is the rate in Hz, 1000 without it.
 */
import { TrialWatch } from '../src/live/index.ts';
import type { Phase } from '../src/live/types.ts';
import { coarsenBlocks } from '../src/recording/index.ts';
import { traceOf } from '../test/decay/trials.ts';
import { contextOf, settingsFor, trialsOf } from '../test/live/trials.ts';

const rate = Number(process.argv[2] ?? 1000);
/** Looks a second, and most blocks of a look. */
const looks = 2;
const mostBlocks = 8192;

const conditions = [
  { body: 'bare-junction', flow: '120' },
  { body: 'aluminium-12', flow: '120' },
  { body: 'brass-12', flow: '120' },
  { body: 'brass-20', flow: '60' },
];
let allTime = 0;
let allSeconds = 0;
for (const condition of conditions) {
  const [trial] = trialsOf('watching', null, { conditions: [condition], rate });
  if (trial === undefined) throw new Error(`There is no trial of ${condition.body}.`);
  const { logged } = trial.readings;
  const whole = traceOf(logged, rate);
  const watch = new TrialWatch(settingsFor(condition.body));
  const context = contextOf(trial);
  const spent = new Map<Phase, { time: number; takes: number; longest: number }>();
  for (let count = rate / looks; count < logged.length; count += rate / looks) {
    const blocks = traceOf(logged.subarray(0, count), rate).blocks;
    const factor = Math.ceil(blocks.length / mostBlocks);
    const trace = { ...whole, blocks: coarsenBlocks(blocks, factor) };
    const before = process.cpuUsage();
    const { phase } = watch.take(trace, context, true);
    const { user, system } = process.cpuUsage(before);
    const time = (user + system) / 1000;
    const own = spent.get(phase) ?? { time: 0, takes: 0, longest: 0 };
    spent.set(phase, { time: own.time + time, takes: own.takes + 1, longest: Math.max(own.longest, time) });
    allTime += time;
  }
  const length = logged.length / rate;
  allSeconds += length;
  const parts = [...spent].map(([phase, { time, takes, longest }]) => {
    return `${phase} ${((time * looks) / takes).toFixed(1)} ms (longest look ${longest.toFixed(0)} ms)`;
  });
  console.log(`${condition.body}, ${length.toFixed(0)} s at ${rate} Hz, a second: ${parts.join(', ')}`);
}
console.log(`all: ${(allTime / allSeconds).toFixed(1)} ms of CPU time a recorded second`);
