/**
 * Puts a class on a server: 40 groups, 12 of which send 100 MB at once while 60 floors are open, and asks for the page
 * meanwhile. Holds the answers and the memory against what was promised. Run with `npm run load`; the server is the
 * built one, in a process of its own, on the loopback address alone. Reads memory and processor time from /proc, as
 * Linux has them.
 */
import { spawn } from 'node:child_process';
import { createReadStream, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import type { IncomingMessage, RequestOptions } from 'node:http';
import { Agent, request } from 'node:https';
import { createServer } from 'node:net';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { Readable } from 'node:stream';
import { setTimeout as after } from 'node:timers/promises';
import { openRoomAccess } from '../src/store/index.ts';
import { writeClass, writeLongRecording } from './load-class.ts';

/** What is promised: 95th percentile of the page's answers, ms, and memory of the server, bytes. */
const most = { answer: 300, memory: 1e9 };
const floors = 60;
const senders = 12;
const size = 100e6;
/** The whole of it is ended after this, ms. */
const longest = 10 * 60_000;
/** Between two requests of the page, ms. */
const pause = 100;

const groups = Array.from({ length: 40 }, (_, i) => `A${i + 1}`);
const passphrase = 'a passphrase for one run of this script';
const folder = mkdtempSync(join(tmpdir(), 'emberline-load-'));
const long = join(folder, 'long-recording');
const end = setTimeout(() => fail('it took more than ten minutes'), longest);

writeClass(folder, groups);
const lastTime = writeLongRecording(long, size);
const port = await freePort();
const server = spawn(
  process.execPath,
  [
    '--import',
    './build/load-watch.js',
    'dist/main.js',
    'serve',
    folder,
    '--room',
    '--address',
    '127.0.0.1',
    '--port',
    String(port),
  ],
  { env: { ...process.env, EMBERLINE_PASSPHRASE: passphrase }, stdio: ['ignore', 'pipe', 'inherit'] },
);
server.on('exit', (code) => fail(`the server ended by itself with ${code}`));

// The certificate is made for this run, and nobody else listens on this address.
const agent = new Agent({ keepAlive: true, rejectUnauthorized: false, maxSockets: 200 });

interface Answer {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly text: string;
}

await new Promise<void>((resolve) => server.stdout.once('data', () => resolve()));
const instructor = await signIn({ as: 'instructor', secret: passphrase });
const access = await openRoomAccess(folder, groups);
const display = await signIn({ as: 'display', secret: access.display });
for (let waiting = true; waiting; ) {
  const { progress } = JSON.parse((await ask('GET', '/api/recordings', { cookie: instructor })).text);
  waiting = progress.done < progress.total;
  await after(200);
}

const own: number[] = [];
const children: number[] = [];
const sampler = setInterval(() => {
  own.push(memoryOf(server.pid ?? 0));
  children.push(childrenOf(server.pid ?? 0).reduce((sum, pid) => sum + memoryOf(pid), 0));
}, 100);

let told = 0;
const opened = await Promise.all(Array.from({ length: floors }, () => openFloor(display)));
const sending = groups.slice(0, senders).map((group, i) => send(group, i));
let under = true;
const began = performance.now();
const serverBefore = processorTime(server.pid ?? 0);
const ownBefore = process.cpuUsage();
const ownDelay = monitorEventLoopDelay({ resolution: 10 });
ownDelay.enable();
server.kill('SIGUSR2');
const all = Promise.all(sending).finally(() => {
  under = false;
});
const pages = [
  '/',
  '/api/experiment',
  '/api/recordings',
  '/api/floor',
  '/api/rig',
  '/api/recordings/recordings/A/A20/brass-12_60-1.txt/analysis',
];
const answers = new Map<string, number[]>(pages.map((path) => [path, []]));
for (let i = 0; under || i < 100; i++) {
  const path = pages[i % pages.length] ?? '/';
  const from = performance.now();
  const { status } = await ask('GET', path, { cookie: instructor });
  if (status !== 200) fail(`${path} answers ${status}`);
  answers.get(path)?.push(performance.now() - from);
  await after(pause);
}
const kept = await all;
const took = (performance.now() - began) / 1000;
const serverTime = processorTime(server.pid ?? 0) - serverBefore;
const { user, system } = process.cpuUsage(ownBefore);
ownDelay.disable();
clearInterval(sampler);
clearTimeout(end);
for (const close of opened) close();
server.removeAllListeners('exit');
const ended = new Promise((resolve) => server.once('exit', resolve));
server.kill('SIGTERM');
await ended;
const bytesKept = kept.reduce((sum, path) => sum + statSync(join(folder, path)).size, 0);
rmSync(folder, { recursive: true, force: true });

const times = [...answers.values()].flat();
const peak = (list: readonly number[]) => Math.max(0, ...list);
const results = [
  [
    'answers of the page, 95th percentile',
    `${quantile(0.95, times).toFixed(0)} ms`,
    `${most.answer} ms`,
    quantile(0.95, times) < most.answer,
  ],
  ['memory of the server, peak', megabytes(peak(own)), megabytes(most.memory), peak(own) < most.memory],
  ['files kept', `${kept.length} of ${senders}`, 'all', kept.length === senders],
  ['floors that were told something', `${told} of ${floors}`, 'all', told === floors],
] as const;
console.log(
  `${senders} files of ${megabytes(size)} sent, read and kept in ${took.toFixed(1)} s: ${(bytesKept / 1e6 / took).toFixed(0)} MB/s`,
);
console.log(`memory of the processes that the server started, peak: ${megabytes(peak(children))}`);
console.log(
  `processor time: server ${serverTime.toFixed(1)} s, this script ${((user + system) / 1e6).toFixed(1)} s; load of the machine ${loadavg()
    .map((one) => one.toFixed(1))
    .join(' ')}`,
);
console.log(
  `event loop of this script held up: 95th percentile ${(ownDelay.percentile(95) / 1e6).toFixed(0)} ms, longest ${(ownDelay.max / 1e6).toFixed(0)} ms`,
);
for (const [path, list] of answers) {
  console.log(
    `  ${path}: ${list.length} answers, median ${quantile(0.5, list).toFixed(0)} ms, longest ${quantile(1, list).toFixed(0)} ms`,
  );
}
for (const [what, found, limit, good] of results)
  console.log(`${good ? 'PASS' : 'MISS'}  ${what}: ${found} (${limit})`);
process.exitCode = results.every(([, , , good]) => good) ? 0 : 1;
agent.destroy();

/** Sends a recording as a group, has it read, and gives it its place. */
async function send(group: string, number: number): Promise<string> {
  const code = access.groups.get(group) ?? '';
  const authorization = `Basic ${Buffer.from(`${group}:${code}`).toString('base64')}`;
  const tail = Buffer.from(
    `${(lastTime + 1e-4).toFixed(4).padStart(9, '0')}\t${(21 + number / 100).toFixed(3).padStart(6, '0')}\n`,
  );
  const bytes = statSync(long).size + tail.length;
  const protocol = { 'tus-resumable': '1.0.0', authorization };
  const begun = await ask('POST', '/api/transfers', {
    ...protocol,
    'upload-length': String(bytes),
    'upload-metadata': `filename ${Buffer.from('brass-20_120-1.txt').toString('base64')}`,
  });
  const address = begun.headers.location ?? fail(`a transfer is refused: ${begun.text}`);
  const body = Readable.from(pieces(tail));
  const headers = {
    ...protocol,
    'content-type': 'application/offset+octet-stream',
    'upload-offset': '0',
    'content-length': String(bytes),
  };
  const sent = await ask('PATCH', address, headers, body);
  if (sent.status !== 204) fail(`bytes are refused: ${sent.text}`);
  const id = address.split('/').at(-1);
  const json = { authorization, 'content-type': 'application/json' };
  const read = await ask('POST', `/api/uploads/${id}/read`, json, '{"options":{}}');
  if (read.status !== 200) fail(`a file cannot be read: ${read.text}`);
  const place = JSON.stringify({ place: { body: 'brass-20', flow: '120', repeat: 1 } });
  const done = await ask('POST', `/api/uploads/${id}/keep`, json, place);
  if (done.status !== 200) fail(`a file is not kept: ${done.text}`);
  return JSON.parse(done.text).path;
}

async function* pieces(tail: Buffer): AsyncGenerator<Buffer> {
  for await (const piece of createReadStream(long, { highWaterMark: 1 << 18 })) yield piece;
  yield tail;
}

async function signIn(who: object): Promise<string> {
  const answer = await ask(
    'POST',
    '/api/session',
    { 'content-type': 'application/json' },
    JSON.stringify(who),
  );
  const cookie = answer.headers['set-cookie']?.[0]?.split(';')[0];
  return cookie ?? fail(`nobody is let in: ${answer.text}`);
}

/** Opens the bench floor and listens to it. */
function openFloor(cookie: string): Promise<() => void> {
  return new Promise((resolve) => {
    const listening = request({ ...at('GET', '/api/floor/events'), headers: { cookie } }, (response) => {
      if (response.statusCode !== 200) fail(`a floor is refused: ${response.statusCode}`);
      let heard = false;
      response.on('error', () => undefined);
      response.on('data', (piece: Buffer) => {
        if (heard || !piece.includes('event: floor')) return;
        heard = true;
        told += 1;
      });
      resolve(() => listening.destroy());
    });
    listening.on('error', () => undefined);
    listening.end();
  });
}

function at(method: string, path: string): RequestOptions & { agent: Agent } {
  return { host: '127.0.0.1', port, method, path, agent };
}

function ask(
  method: string,
  path: string,
  headers: Record<string, string>,
  body?: string | Readable,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request({ ...at(method, path), headers }, (response) => {
      const pieces: Buffer[] = [];
      response.on('data', (piece: Buffer) => pieces.push(piece));
      response.on('error', reject);
      response.on('end', () => {
        const text = Buffer.concat(pieces).toString('utf8');
        resolve({ status: response.statusCode ?? 0, headers: response.headers, text });
      });
    });
    asked.on('error', (error: NodeJS.ErrnoException) => {
      // The server closed a connection that was idle just as it was used again.
      const again = asked.reusedSocket && error.code === 'ECONNRESET' && !(body instanceof Readable);
      if (again) ask(method, path, headers, body).then(resolve, reject);
      else reject(error);
    });
    if (body instanceof Readable) body.pipe(asked);
    else asked.end(body);
  });
}

function memoryOf(pid: number): number {
  try {
    return 1024 * Number(/^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0);
  } catch {
    // It ended in between.
    return 0;
  }
}

/** Processor time of a process so far, s; Linux counts it by the hundredth of a second (proc(5), utime and stime). */
function processorTime(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ') ?? [];
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

function childrenOf(pid: number): number[] {
  return readdirSync(`/proc/${pid}/task`).flatMap((task) => {
    try {
      const text = readFileSync(`/proc/${pid}/task/${task}/children`, 'utf8');
      return text
        .split(' ')
        .filter((one) => one !== '')
        .map(Number);
    } catch {
      return [];
    }
  });
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
    });
  });
}

function quantile(part: number, of: readonly number[]): number {
  const sorted = of.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
}

function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1e6)} MB`;
}

function fail(why: string): never {
  server.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
  console.error(`MISS  ${why}`);
  process.exit(1);
}
