import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { runCommand } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-plan-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const thornwick = join('examples', 'thornwick');
const thornwickText = readFileSync(join(thornwick, 'experiment.yaml'), 'utf8');

function experimentFolder(name: string, text: string): string {
  const path = join(folder, name);
  mkdirSync(path);
  writeFileSync(join(path, 'experiment.yaml'), text);
  return path;
}

const condition = z.object({ body: z.string(), flow: z.string() });
const expected = z.object({
  value: z.number(),
  standardUncertainty: z.number(),
  interval: z.tuple([z.number(), z.number().nullable()]),
});
const planSchema = z.object({
  course: z.string(),
  start: z.null(),
  length: z.number(),
  neededAtMost: z.number().nullable(),
  conditions: z.array(
    z.object({
      condition,
      predicted: expected,
      measured: expected.nullable(),
      timeConstant: expected.extend({ source: z.enum(['theory', 'measured']) }),
      heating: z.object({ value: z.number(), basis: z.string(), reason: z.string() }),
      trial: z.object({
        baseline: z.number(),
        heating: z.number(),
        cooling: z.number(),
        settling: z.number(),
      }),
      trialTime: z.number(),
      design: z.object({ relative: z.number(), limitedBy: z.string() }),
      rate: z.number(),
      fileSize: z.number(),
    }),
  ),
  leftOut: z.array(condition.extend({ why: z.string() })),
  unplanned: z.array(z.object({ condition, message: z.string() })),
  timeLine: z.object({
    stretches: z.array(z.object({ kind: z.string(), from: z.number(), to: z.number() })),
    fitting: z.array(condition),
    notFitting: z.array(condition),
    end: z.number(),
    needed: z.number(),
  }),
  mends: z.array(z.object({ kind: z.string(), fits: z.boolean(), saves: z.number(), message: z.string() })),
  advice: z.array(z.object({ about: z.string(), severity: z.string(), message: z.string() })),
  cautions: z.array(z.object({ code: z.string(), message: z.string(), action: z.string() })),
});

describe('plan', () => {
  test('prints one JSON object with times in s', async () => {
    const { status, stdout } = await runCommand(['plan', thornwick, '--json']);
    // The example has more conditions than one bench can measure.
    expect(status).toBe(1);
    const plan = planSchema.parse(JSON.parse(stdout));
    expect(plan.conditions).toHaveLength(9);
    expect(plan.timeLine.fitting.length + plan.timeLine.notFitting.length).toBe(9);
    expect(plan.length).toBe(6600);
    expect(plan.timeLine.end).toBeLessThanOrEqual(6000);
    expect(plan.mends.some(({ fits }) => fits)).toBe(true);
  });

  test('prints order, time line, mends, settings and safety within 80 columns', async () => {
    const { status, stdout } = await runCommand(['plan', thornwick]);
    expect(status).toBe(1);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    for (const word of ['in run order', 'time line', 'not fitting', 'to fit', 'rate', 'safety', 'ice bath']) {
      expect(stdout).toContain(word);
    }
    expect(stdout).not.toMatch(/NaN|undefined|Infinity|null/);
  });

  test('prints times of day where the session has a start, and long codes within 80 columns', async () => {
    const long = 'b'.repeat(40);
    const text = thornwickText
      .replace('length: 110 min', 'length: 5 h\n  start: "23:30"')
      .replaceAll('brass-20', long);
    const { status, stdout } = await runCommand(['plan', experimentFolder('night', text)]);
    expect(status).toBe(0);
    const [path = '', ...lines] = stdout.split('\n');
    expect(path).toContain('experiment.yaml');
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(80);
    expect(stdout).toContain('23:15  make the ice bath');
    expect(stdout).toMatch(/ 0:0\d {2}/);
    expect(stdout).toContain('everything fits');
  });

  test('ends with 2 where something cannot be planned, or the file is not there', async () => {
    const text = thornwickText.replace('diameter: 20.00 mm +- 0.02 mm, material: brass', 'material: brass');
    const { status, stdout } = await runCommand(['plan', experimentFolder('lacking', text)]);
    expect(status).toBe(2);
    // The reason is said once, with the conditions that it holds for.
    expect(stdout.match(/no plan/g)).toHaveLength(1);
    expect(stdout).toMatch(/no plan +brass-20 at 60, brass-20 at 120:/);
    expect((await runCommand(['plan', join(folder, 'nowhere')])).status).toBe(2);
  });

  test('puts what recordings showed in place of theory, and says which do not count', async () => {
    const twoGroups = experimentFolder('measured', thornwickText);
    for (const group of ['A1', 'A2']) {
      const place = join('recordings', 'A', group);
      cpSync(join('demo', 'thornwick', place), join(twoGroups, place), { recursive: true });
    }
    const { stdout, stderr } = await runCommand(['plan', twoGroups, '--measured', '--json']);
    const { conditions } = planSchema.parse(JSON.parse(stdout));
    const sources = conditions.map(({ timeConstant }) => timeConstant.source);
    expect(sources.filter((source) => source === 'measured')).toHaveLength(5);
    for (const { timeConstant, measured, predicted } of conditions) {
      expect(timeConstant.value).toBe(measured?.value ?? predicted.value);
    }
    // One of these recordings was stopped too early.
    expect(stderr).toContain('1 recording does not count');
    const bare = experimentFolder('bare', thornwickText);
    expect((await runCommand(['plan', bare, '--measured'])).stderr).toContain('the plan is by theory');
  });

  test('writes a calendar file', async () => {
    const text = thornwickText.replace(
      /^course: .*/m,
      'course: "Heat; air, and ü\\\\-turns: a name that is longer than one line of a calendar file"',
    );
    const path = experimentFolder('calendar', text);
    const file = join(folder, 'session.ics');
    const asked = ['plan', path, '--ics', file, '--start'];
    expect((await runCommand([...asked, '2026-03-01 00:10'])).status).toBe(1);
    const calendar = readFileSync(file, 'utf8');
    // RFC 5545: lines of at most 75 bytes that end in CRLF (3.1), escapes (3.3.11), floating time (3.3.5).
    const lines = calendar.split('\r\n');
    expect(lines.every((line) => new TextEncoder().encode(line).length <= 75)).toBe(true);
    expect(calendar.replaceAll('\r\n', '')).not.toContain('\n');
    const unfolded = calendar.replaceAll('\r\n ', '');
    expect(unfolded).toContain('X-WR-CALNAME:Heat\\; air\\, and ü\\\\-turns: a name that is longer');
    // The ice bath begins 15 min before the session, on the day before: 28 February.
    expect(unfolded).toContain('DTSTART:20260228T235500\r\n');
    expect(unfolded).toContain('SUMMARY:brass-12 at 120\r\n');
    const count = (word: string) => unfolded.split(word).length - 1;
    expect(count('BEGIN:VEVENT')).toBe(count('END:VEVENT'));
    expect(new Set(unfolded.match(/UID:.*/g)).size).toBe(count('BEGIN:VEVENT'));
    // UTC of the moment of writing (3.8.7.2).
    const [, stamp = ''] = /DTSTAMP:(\d{8}T\d{6})Z\r/.exec(unfolded) ?? [];
    const [y, mo, d, h, mi, s] = (/(....)(..)(..)T(..)(..)(..)/.exec(stamp) ?? []).slice(1).map(Number);
    const written = Date.UTC(y ?? 0, (mo ?? 0) - 1, d, h, mi, s);
    expect(Math.abs(Date.now() - written)).toBeLessThan(120_000);
    // Events of another course, or of another start, are others (3.8.4.7).
    const uids: readonly string[] = unfolded.match(/UID:.*/g) ?? [];
    const again = join(folder, 'again.ics');
    const others = [
      ['plan', path, '--start', '2026-03-02 00:10'],
      ['plan', experimentFolder('calendar-2', text), '--start', '2026-03-01 00:10'],
    ];
    for (const other of others) {
      await runCommand([...other, '--ics', again]);
      const found: readonly string[] = readFileSync(again, 'utf8').match(/UID:.*/g) ?? [];
      expect(found).toHaveLength(uids.length);
      expect(found.some((uid) => uids.includes(uid))).toBe(false);
    }
    for (const wrong of ['2026-02-30 10:00', '2026-03-02', 'soon', '2026-03-02 25:00']) {
      const { status, stderr } = await runCommand([...asked, wrong]);
      expect(status).toBe(2);
      expect(stderr).toContain('write date and time of the first minute');
    }
    expect((await runCommand(['plan', path, '--ics', file])).stderr).toContain('--ics needs --start');
  });

  test('has a plan for an empty experiment too', async () => {
    const { status, stdout } = await runCommand(['plan', experimentFolder('empty', 'course: nothing yet\n')]);
    expect(status).toBe(0);
    expect(stdout).toContain('There is nothing to plan.');
  });
});
