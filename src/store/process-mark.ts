import { readFileSync, readlinkSync } from 'node:fs';
import { hostname } from 'node:os';
import { z } from 'zod';

/** Which process it was that wrote something, so that another one can tell whether it still runs. */
export const processMark = z.object({
  /** Name of its machine, for a person. */
  host: z.string().max(300),
  pid: z.int().min(1),
  /** When it began, by the count of its machine; null where the system does not say. A number may be given out again. */
  started: z.string().max(100).nullable(),
  /** What tells its machine, and the time since it was switched on, from all others; null where nothing does. */
  machine: z.string().max(200).nullable(),
});

export type ProcessMark = Readonly<z.output<typeof processMark>>;

/** The mark of this process. */
export function ownMark(): ProcessMark {
  return { host: hostname(), pid: process.pid, started: startOf(process.pid), machine: machineMark() };
}

/**
 * Whether a process still runs. `elsewhere`: it is one of another machine, and nobody here can tell. `perhaps`: one of
 * that number runs here, which may be another one.
 */
export function stateOf(mark: ProcessMark): 'runs' | 'gone' | 'elsewhere' | 'perhaps' {
  const here = mark.machine === null ? mark.host === hostname() : mark.machine === machineMark();
  if (!here) return 'elsewhere';
  if (!isThere(mark.pid)) return 'gone';
  const started = startOf(mark.pid);
  if (mark.started === null || started === null) return 'perhaps';
  return mark.started === started ? 'runs' : 'gone';
}

function isThere(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it runs, and is another user's.
    return !(error instanceof Error && 'code' in error && error.code === 'ESRCH');
  }
}

/** Ticks from the start of the machine to that of a process, field 22 of proc_pid_stat(5); only Linux has it. */
function startOf(pid: number): string | null {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // The second field is the name of the program in brackets, with whatever it holds.
    const [state, ...fields] = text.slice(text.lastIndexOf(')') + 2).split(' ');
    // One that ended, and that nobody has asked about yet, does nothing any more.
    return state === 'Z' || state === 'X' ? 'ended' : (fields[18] ?? null);
  } catch {
    return null;
  }
}

let known: string | null | undefined;

/** Names of machines are given twice, as where one was copied from another; the mark of a start is not. */
function machineMark(): string | null {
  if (known === undefined) {
    try {
      const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
      // Containers on one machine count their processes apart.
      known = `${boot} ${readlinkSync('/proc/self/ns/pid')}`;
    } catch {
      known = null;
    }
  }
  return known;
}
