import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { appendRigCheck } from '../../src/store/index.ts';
import { type BenchMoment, beginSession } from './floor-session.ts';

/** A session of the demo's course in the middle of it: a bench that heats, two that cool, one whose jet was changed. */
const moments: readonly BenchMoment[] = [
  { bench: 'bench-1', done: 2, part: 0.55 },
  { bench: 'bench-2', done: 1, part: 0.22 },
  { bench: 'bench-3', done: 2, part: 0.7, fault: 'jet-changed' },
  { bench: 'bench-4', done: 1, part: 0.8 },
];

/** A folder in which a session runs. */
export interface SessionFolder {
  readonly folder: string;
  end(): void;
}

/** Begins the session, with rigs that were checked before it; its loggers write until it is ended. */
export async function sessionFolder(): Promise<SessionFolder> {
  const folder = mkdtempSync(join(tmpdir(), 'thornwick-'));
  const course = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  // Slower loggers than those of the demo.
  writeFileSync(join(folder, 'experiment.yaml'), course.replace(/^ {2}rate: .*$/m, '  rate: 20 Hz'));
  await checkRigs(folder);
  const record = await beginSession(folder, moments, Date.now());
  let before = performance.now();
  const timer = setInterval(() => {
    const now = performance.now();
    record((now - before) / 1000);
    before = now;
  }, 500);
  return {
    folder,
    end: () => {
      clearInterval(timer);
      rmSync(folder, { recursive: true });
    },
  };
}

async function checkRigs(folder: string): Promise<void> {
  const hour = 3_600_000;
  const check = (hours: number, bench: string | null, value: number, written: string) => {
    const at = new Date(Date.now() - hours * hour).toISOString();
    return { at, who: 'R. Hale', bench, subject: null, value, written, note: '' };
  };
  for (const [bench, value] of [
    ['bench-1', 1.4],
    ['bench-2', 1.1],
    ['bench-3', 4.6],
    ['bench-4', 1.3],
  ] as const) {
    await appendRigCheck(folder, { kind: 'zero', ...check(1, bench, value / 1000, `${value} mV`) });
  }
  await appendRigCheck(folder, { kind: 'ice-point', ...check(1, 'bench-1', 0.1, '0.1 °C') });
  await appendRigCheck(folder, { kind: 'ice-point', ...check(30, 'bench-2', 0.1, '0.1 °C') });
  await appendRigCheck(folder, { kind: 'supply-pressure', ...check(1, null, 7.0e5, '6.0 bar(g)') });
  await appendRigCheck(folder, { kind: 'jet-temperature', ...check(1, 'bench-1', 20.9, '20.9 °C') });
}
