/**
 * Times marks that are moved on a recording of 6 million samples: a real server that has the recording in memory, asked
 * 200 times back to back, now for another start and now for another end of the cooling. Says how long an answer took, how
 * much of it the server had the request, and how much processor time the server used. From the root of the project:
 *
 *   npm run build && node build/bench-marks.js
 *
 * A folder as argument holds another build than dist. Target on a machine with nothing else to do: below 50 ms, for the
 * median and for 95 answers of 100.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, linkSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { largeTrial } from './large-trial.ts';

const dist = resolve(process.argv[2] ?? 'dist');
const address = 'http://localhost:4421';
const path = 'recordings/A/A1/brass-12_60-1.txt';
const moves = 200;

/** Runs in the server before its own code: tells how long it had each request, and its processor time when asked. */
const telling = `
  import { subscribe } from 'node:diagnostics_channel';
  const since = new WeakMap();
  subscribe('http.server.request.start', ({ request }) => since.set(request, performance.now()));
  subscribe('http.server.response.finish', ({ request }) => {
    process.send({ took: performance.now() - since.get(request) });
  });
  process.on('message', () => {
    const { user, system } = process.cpuUsage();
    process.send({ processor: (user + system) / 1000 });
  });
`;

const folder = mkdtempSync(join(tmpdir(), 'emberline-marks-'));
mkdirSync(dirname(join(folder, path)), { recursive: true });
copyFileSync(join('examples', 'thornwick', 'experiment.yaml'), join(folder, 'experiment.yaml'));
linkSync(largeTrial(6), join(folder, path));
const server = spawn(
  process.execPath,
  [
    `--import=data:text/javascript,${encodeURIComponent(telling)}`,
    join(dist, 'main.js'),
    'serve',
    folder,
    '--port',
    new URL(address).port,
  ],
  { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] },
);
const tookInServer: number[] = [];
server.on('message', (message: { took?: number }) => {
  if (message.took !== undefined) tookInServer.push(message.took);
});

/** The server's processor time so far, ms. */
async function processorTime(): Promise<number> {
  const answer = new Promise<number>((tell) => {
    server.on('message', function hear(message: { processor?: number }) {
      if (message.processor === undefined) return;
      server.off('message', hear);
      tell(message.processor);
    });
  });
  server.send('processor time');
  return answer;
}

async function ask(what: string, body?: unknown) {
  const wish = {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  };
  const answer = await fetch(`${address}/api/recordings/${path}/${what}`, body === undefined ? {} : wish);
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}

function say(what: string, times: readonly number[]): void {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (part: number) => sorted[Math.floor(part * (sorted.length - 1))]?.toFixed(1) ?? '-';
  console.log(
    `${what.padEnd(28)} median ${at(0.5)} ms, 95 of 100 below ${at(0.95)} ms, longest ${at(1)} ms (n = ${sorted.length})`,
  );
}

try {
  if (server.stdout === null) throw new Error('The server has no output.');
  await once(server.stdout, 'data');
  const { baseline, cooling, heating } = (await ask('analysis')).used;
  const before = loadavg()[0]?.toFixed(1);
  const times: number[] = [];
  const processorBefore = await processorTime();
  tookInServer.length = 0;
  for (let i = 0; i < moves; i++) {
    const by = 0.05 * (i + 1);
    const moved = i % 2 === 0 ? { ...cooling, from: cooling.from + by } : { ...cooling, to: cooling.to - by };
    const start = performance.now();
    await ask('preview', { marks: { baseline, cooling: moved, heating } });
    times.push(performance.now() - start);
  }
  const processor = (await processorTime()) - processorBefore;
  say('answer to a move', times);
  say('in the server', tookInServer);
  console.log(`processor time of the server ${(processor / moves).toFixed(1)} ms a move`);
  console.log(`load average ${before} before and ${loadavg()[0]?.toFixed(1)} at the end`);
} finally {
  server.disconnect();
  server.kill('SIGTERM');
  if (server.exitCode === null) await once(server, 'exit');
  rmSync(folder, { recursive: true, force: true });
}
