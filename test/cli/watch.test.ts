import { cpSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough, Writable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { WatchOptions } from '../../src/cli/watch-command.ts';
import { watchBenches } from '../../src/cli/watch-folder.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { runCommand } from './run.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-watch-'));
  cpSync('examples/thornwick/experiment.yaml', join(folder, 'experiment.yaml'));
  mkdirSync(join(folder, 'recordings/A/A1'), { recursive: true });
});
afterEach(() => rmSync(folder, { recursive: true }));

const path = 'recordings/A/A1/brass-12_120-1.txt';
const start = Date.UTC(2026, 2, 2, 14);

/** Records a trial and watches it second by second, by a clock of its own. */
async function watched(options: WatchOptions, terminal: boolean) {
  let text = '';
  const written = new Writable({
    write: (chunk, _encoding, done) => {
      text += String(chunk);
      done();
    },
  });
  const stdout = Object.assign(written, { isTTY: terminal, rows: 30 });
  const surroundings = { stdout, stderr: new PassThrough(), environment: {} };
  let now = start;
  const pieces = trialPieces();
  const status = await watchBenches(folder, options, surroundings, { now: () => now }, async (floor) => {
    for (let i = 1; i <= pieces.length + 12; i++) {
      if (i <= pieces.length) writeFileSync(join(folder, path), pieces[i - 1] ?? '', { flag: 'a' });
      if (i <= pieces.length) utimesSync(join(folder, path), now / 1000, now / 1000);
      now += 1000;
      await floor.look();
    }
    await floor.settled();
    now += 1000;
    await floor.look();
  });
  return { status, text };
}

describe('watch', () => {
  test('says how the benches stand, in 80 columns, and ends with --once', async () => {
    writeFileSync(join(folder, path), trialPieces().join(''));
    // Long ago by any clock.
    utimesSync(join(folder, path), start / 1000, start / 1000);
    const { status, stdout, stderr } = await runCommand(['watch', folder, '--once']);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(/bench-1 {4}A1, brass-12 in 120, repeat 1/);
    expect(stdout).toMatch(/done {7}brass-12_120-1\.txt: Time constant \(\d+\.\d+ ± \d+\.\d+\) s/);
    expect(stdout).toMatch(/bench-4 {4}nothing recorded yet/);
    expect(
      Math.max(
        ...stdout
          .split('\n')
          .slice(1)
          .map((line) => line.length),
      ),
    ).toBeLessThanOrEqual(80);
  });

  test('writes a line for everything that happens where no terminal is there', async () => {
    const { status, text } = await watched({}, false);
    expect(status).toBe(0);
    const lines = text.trimEnd().split('\n');
    expect(lines.every((line) => /^\d\d:\d\d:\d\d {2}bench-1 {2}/.test(line))).toBe(true);
    const at = (what: RegExp) => lines.findIndex((line) => what.test(line));
    const order = [
      /: baseline, 22\.\d °C/,
      /: heating, /,
      /heat away at once/,
      /: cooling, /,
      /is done\. Time/,
    ];
    const places = order.map(at);
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(lines.length).toBeLessThan(25);
  });

  test('writes JSON lines with every change of phase', async () => {
    const { text } = await watched({ json: true }, false);
    const line = z.object({
      at: z.iso.datetime(),
      bench: z.literal('bench-1'),
      trial: z.object({ phase: z.string() }).nullable(),
      trials: z.array(z.object({ path: z.string(), timeConstant: z.number() })),
    });
    const lines = text
      .trimEnd()
      .split('\n')
      .map((one) => line.parse(JSON.parse(one)));
    const phases = new Set(lines.flatMap(({ trial }) => trial?.phase ?? []));
    expect([...phases]).toEqual(['waiting', 'baseline', 'heating', 'cooling', 'done']);
    expect(lines.at(-1)?.trials.map((one) => one.path)).toEqual([path]);
    expect(text).not.toContain('series');
  });

  test('draws in place on a terminal, gives it back, and leaves the last state there', async () => {
    const { text } = await watched({}, true);
    const esc = '\u001b[';
    expect(text.startsWith(`${esc}?1049h${esc}?25l${esc}H`)).toBe(true);
    const [page = '', left = ''] = text.split(`${esc}?25h${esc}?1049l`);
    expect(page).toContain('Aim hot air and the jet at nobody');
    // Nothing is wiped before it is drawn over: that is what flickers.
    expect(page).not.toContain(`${esc}2J`);
    expect(page.split(`${esc}H`).every((frame) => frame.split('\r\n').length <= 30)).toBe(true);
    expect(left).toContain('brass-12_120-1.txt: Time constant');
  });

  test('refuses a folder without an experiment, and says with 2 that its file has faults', async () => {
    rmSync(join(folder, 'experiment.yaml'));
    const none = await runCommand(['watch', folder, '--once']);
    expect(none.status).toBe(2);
    expect(none.stderr).toContain('To start one there: emberline new');
    writeFileSync(join(folder, 'experiment.yaml'), 'mains: 55 Hz\n');
    const faulty = await runCommand(['watch', folder, '--once']);
    expect(faulty.status).toBe(2);
    expect(faulty.stdout).toContain('must be 50 Hz or 60 Hz');
  });
});
