/**
 * Kills a working server some hundred times at random moments, and says what of all that it had acknowledged was lost.
 * Run with `npm run crash`; `--kills 300`, `--seed 1` and `--every 10` (kills from one look at everything to the next)
 * take other figures. Nothing of it is on the network. The seed draws the moments; what they hit differs from run to run.
 */
import { parseArgs } from 'node:util';
import { killOften } from './crash/kill-often.ts';

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '300' },
    seed: { type: 'string', default: '1' },
    every: { type: 'string', default: '10' },
  },
});
const kills = figure('--kills', values.kills, 5000);
const seed = figure('--seed', values.seed, 2 ** 31);
const every = figure('--every', values.every, 1000);

const start = performance.now();
const { duringStart, counts, losses, faults } = await killOften({ kills, seed, every }, (done) => {
  if (process.stderr.isTTY) process.stderr.write(`\r${done} of ${kills} kills`);
});
const seconds = (performance.now() - start) / 1000;
if (process.stderr.isTTY) process.stderr.write('\n');
console.log(`${kills} kills in ${seconds.toFixed(0)} s, ${duringStart} of them while the server started`);
console.log(`${'what was done'.padEnd(28)}acknowledged  refused  broken off by a kill`);
for (const [name, { done, refused, broken }] of [...counts].sort()) {
  console.log(
    `${name.padEnd(28)}${String(done).padStart(12)}${String(refused).padStart(9)}${String(broken).padStart(22)}`,
  );
}
for (const fault of [...new Set(faults)].slice(0, 10)) console.log(`FAULT  ${fault}`);
for (const loss of losses.slice(0, 20)) console.log(`LOST   ${loss}`);
console.log(
  losses.length === 0
    ? 'nothing that was acknowledged is lost, and nothing is half-written'
    : `${losses.length} losses`,
);
process.exitCode = losses.length === 0 && faults.length === 0 ? 0 : 1;

function figure(option: string, text: string, highest: number): number {
  const value = Number(text);
  if (Number.isInteger(value) && value > 0 && value <= highest) return value;
  throw new Error(`${option}: write a whole number above 0 and up to ${highest}.`);
}
