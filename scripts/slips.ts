/**
 * Has simulated groups hand in values with known slips, and right ones, and prints how often the slip is named first and
 * how often right work is found fault with. Run with `npm run slips`; `-- --benches 40` takes more recordings, `-- --seed
 * 2` others.
 */
import { parseArgs } from 'node:util';
import { groupSlips } from '../src/practice/group-slips.ts';
import { readExperiment } from '../src/store/index.ts';
import { openDesk } from './prove/desk.ts';
import { presentTally, tallyOf } from './slips/tally.ts';
import { tryBenches } from './slips/try-benches.ts';

const { values } = parseArgs({
  options: { benches: { type: 'string', default: '60' }, seed: { type: 'string', default: '1' } },
});
const benches = Number(values.benches);
if (!(Number.isInteger(benches) && benches > 0)) {
  throw new RangeError(`--benches ${values.benches}: write a whole number above 0.`);
}
const started = performance.now();
const desk = openDesk();
try {
  const experiment = await readExperiment('examples/thornwick');
  const tried = await tryBenches(desk, experiment, { benches, seed: values.seed }, (done) => {
    if (process.stderr.isTTY) process.stderr.write(`\r${done} of ${benches} recordings`);
  });
  console.log(presentTally(tallyOf(tried), Object.keys(groupSlips)));
} finally {
  desk.close();
}
const seconds = (performance.now() - started) / 1000;
console.log(`${benches} recordings, seed ${values.seed}, in ${seconds.toFixed(0)} s.`);
