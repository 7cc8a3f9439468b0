/**
 * Loaded into the server that scripts/load.ts starts. Says at its end how long its event loop was held up since the
 * last SIGUSR2.
 */
import { monitorEventLoopDelay } from 'node:perf_hooks';

const delay = monitorEventLoopDelay({ resolution: 10 });
delay.enable();
process.on('SIGUSR2', () => delay.reset());
process.on('exit', () => {
  const [usual, longest] = [delay.percentile(95), delay.max].map((ns) => (ns / 1e6).toFixed(0));
  process.stderr.write(
    `event loop of the server held up: 95th percentile ${usual} ms, longest ${longest} ms\n`,
  );
});
