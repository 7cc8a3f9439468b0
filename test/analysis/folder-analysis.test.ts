import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import {
  type Analyst,
  analyzeFile,
  analyzeForList,
  experimentDecaySettings,
  findRecordings,
  measureFolder,
  openAnalysis,
  sensorSettings,
  UnknownRecordingError,
} from '../../src/analysis/index.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { comparisonView, detail, readings, recordingList } from '../../src/server/contract/index.ts';
import { readExperiment } from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-analysis-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const demo = join('demo', 'thornwick');
const names = readdirSync(join(demo, 'recordings', 'A', 'A1')).slice(0, 2);
const [first = ''] = names.map((name) => `recordings/A/A1/${name}`);
const noMarks = { baseline: null, cooling: null, heating: null };
const person = { who: 'Ines', why: 'the jet was touched', at: '2026-03-09T11:00:00Z' };

/** A folder with two recordings of the demo, and a file that is none. */
function folderFor(name: string): string {
  const folder = join(root, name);
  mkdirSync(join(folder, 'recordings', 'A', 'A1'), { recursive: true });
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  for (const one of names) {
    cpSync(join(demo, 'recordings', 'A', 'A1', one), join(folder, 'recordings', 'A', 'A1', one));
  }
  return folder;
}

/** Leaves of a recording of the demo its second column alone: nothing in it says when a reading was taken. */
function withoutTime(file: string): void {
  const lines = readFileSync(file, 'utf8').split(/\r?\n/);
  writeFileSync(file, lines.flatMap((line) => line.split('\t')[1] ?? []).join('\n'));
}

function counted(): { analyst: Analyst; calls: string[] } {
  const calls: string[] = [];
  return {
    calls,
    analyst: (order) => {
      calls.push(order.file);
      return analyzeForList(order);
    },
  };
}

async function opened(folder: string) {
  const { analyst, calls } = counted();
  const analysis = await openAnalysis(folder, { analyst });
  await analysis.settled();
  return { analysis, calls };
}

describe('an experiment folder', () => {
  test('is analyzed once, and read from what is kept the next time', async () => {
    const folder = folderFor('kept');
    const before = await opened(folder);
    expect(before.calls).toHaveLength(2);
    const list = before.analysis.list();
    expect(recordingList.parse(list).recordings.map(({ state }) => state)).toEqual(['analyzed', 'analyzed']);
    expect(list.progress).toEqual({ done: 2, total: 2 });
    const after = await openAnalysis(folder);
    expect(after.list()).toEqual(list);
    await after.close();
    const again = await opened(folder);
    expect(again.calls).toEqual([]);
  });

  test('never shows what was kept of other bytes or other settings, or what is damaged', async () => {
    const folder = folderFor('stale');
    await opened(folder);
    const kept = join(folder, 'results', `${first}.json`);
    expect(existsSync(kept)).toBe(true);
    writeFileSync(kept, '{"format":"emberline result 3","key":');
    expect((await opened(folder)).calls).toEqual([join(folder, first)]);
    writeFileSync(join(folder, first), `${readFileSync(join(folder, first), 'utf8')}\n`);
    expect((await opened(folder)).calls).toEqual([join(folder, first)]);
    const yaml = join(folder, 'experiment.yaml');
    writeFileSync(yaml, readFileSync(yaml, 'utf8').replace('ambient-offset: 0.3 K', 'ambient-offset: 0.4 K'));
    expect((await opened(folder)).calls).toHaveLength(2);
  });

  test('gives the same of a recording as analyzing its file', async () => {
    const folder = folderFor('same');
    const { analysis } = await opened(folder);
    const shown = await analysis.detail(first);
    expect(detail.parse(shown)).toMatchObject({ path: first, state: 'analyzed' });
    const experiment = await readExperiment(folder);
    const { decay } = await analyzeFile(join(folder, first), {
      read: {},
      chain: sensorSettings(experiment),
      settings: experimentDecaySettings(experiment, shown.place.body),
      zero: null,
    });
    expect(shown.timeConstant).toEqual(decay.timeConstant);
    expect(shown.estimates.map(({ value }) => value)).toEqual(decay.estimates.map(({ value }) => value));
    expect(shown.remarks).toEqual(decay.remarks);
    expect(shown.figure.time.length).toBeLessThanOrEqual(2000);
  });

  test('shows other marks at once, near the whole analysis, and keeps nothing of them', async () => {
    const { analysis } = await opened(folderFor('preview'));
    const whole = await analysis.detail(first);
    const shown = await analysis.preview(first, noMarks);
    const { value = Number.NaN, standardUncertainty = Number.NaN } = whole.timeConstant ?? {};
    expect(Math.abs((shown.timeConstant?.value ?? Number.NaN) - value)).toBeLessThan(
      0.1 * standardUncertainty,
    );
    const { cooling } = whole.used;
    const marks = { ...noMarks, cooling: { from: (cooling?.from ?? 0) + 5, to: (cooling?.to ?? 0) - 5 } };
    const moved = await analysis.preview(first, marks);
    expect(detail.parse(moved).used.cooling).toEqual(marks.cooling);
    expect(moved.found.cooling).toEqual(cooling);
    expect(moved.timeConstant?.value).not.toBe(value);
    expect((await analysis.detail(first)).timeConstant).toEqual(whole.timeConstant);
  });

  test('keeps a decision over a restart, takes it back, and leaves it aside for other bytes', async () => {
    const folder = folderFor('decided');
    const { analysis } = await opened(folder);
    const raw = readFileSync(join(folder, first));
    const own = await analysis.detail(first);
    const { cooling } = own.used;
    const marks = { ...noMarks, cooling: { from: (cooling?.from ?? 0) + 5, to: cooling?.to ?? 0 } };
    await analysis.decide(first, { kind: 'marks', marks }, person);
    const decided = await analysis.detail(first);
    expect(decided.used.cooling).toEqual(marks.cooling);
    expect(readFileSync(join(folder, first))).toEqual(raw);
    const later = (await opened(folder)).analysis;
    expect(later.list().recordings.find(({ path }) => path === first)).toMatchObject({
      decided: true,
      timeConstant: decided.timeConstant,
    });
    await later.decide(first, { kind: 'undo', undoes: 'd1' }, person);
    expect((await later.detail(first)).timeConstant).toEqual(own.timeConstant);
    await later.decide(first, { kind: 'reject' }, person);
    expect(later.comparison().left).toContainEqual({
      path: first,
      why: 'Ines took it out: the jet was touched',
    });
    writeFileSync(join(folder, first), Buffer.concat([raw, Buffer.from('\n')]));
    const changed = (await opened(folder)).analysis;
    expect(changed.list().recordings.find(({ path }) => path === first)).toMatchObject({
      rejected: false,
      state: 'analyzed',
      message: null,
      note: expect.stringContaining('other bytes'),
    });
  });

  test('measures the folder with what was decided, as the list does', async () => {
    const folder = folderFor('measured');
    const { analysis } = await opened(folder);
    const { cooling } = (await analysis.detail(first)).used;
    const marks = { ...noMarks, cooling: { from: (cooling?.from ?? 0) + 5, to: cooling?.to ?? 0 } };
    await analysis.decide(first, { kind: 'marks', marks }, person);
    const decided = await analysis.detail(first);
    const experiment = await readExperiment(folder);
    const measure = async () => {
      const all = await measureFolder(folder, experiment, await findRecordings(folder, experiment, []));
      return all.recordings.find(({ path }) => path === first);
    };
    const moved = await measure();
    expect(moved?.timeConstant).toBe(decided.timeConstant?.value);
    expect(moved?.notes).toContainEqual({
      code: 'marks-moved',
      severity: 'note',
      message: 'It rests on marks that Ines moved: the jet was touched',
    });
    await analysis.decide(first, { kind: 'reject' }, person);
    expect((await measure())?.excluded).toBe('Ines took it out: the jet was touched');
  });

  test('keeps what is measured as it is done, and goes on from there after it was broken off', async () => {
    const folder = folderFor('broken-off');
    const experiment = await readExperiment(folder);
    const found = await findRecordings(folder, experiment, []);
    expect(found.placed).toHaveLength(2);
    const measure = async (signal?: AbortSignal, tell?: (done: number) => void) => {
      const { analyst, calls } = counted();
      const crew = { analyst, hands: 1, close: async () => undefined };
      const work = { crew, ...(tell && { tell }), ...(signal && { signal }) };
      const measured = await measureFolder(folder, experiment, found, work).catch(() => null);
      return { measured, calls: calls.length };
    };
    const end = new AbortController();
    expect(await measure(end.signal, () => end.abort())).toEqual({ measured: null, calls: 1 });
    const done: number[] = [];
    const rest = await measure(undefined, (count) => done.push(count));
    expect(rest.calls).toBe(1);
    expect(done).toEqual([1, 2]);
    const again = await measure();
    expect(again).toEqual({ measured: rest.measured, calls: 0 });
    expect(again.measured?.recordings).toHaveLength(2);
  });

  test('reads a file as a person said, in list, detail, readings and comparison, and until that is taken back', async () => {
    const folder = folderFor('reread');
    const own = await (await opened(folder)).analysis.detail(first);
    withoutTime(join(folder, first));
    const { analysis } = await opened(folder);
    const listed = (one: typeof analysis) => one.list().recordings.find(({ path }) => path === first);
    expect(listed(analysis)).toMatchObject({ state: 'unreadable', note: null });
    expect(listed(analysis)?.message).toContain('rate');
    await expect(analysis.detail(first)).rejects.toThrow(RecordingError);

    const { rate } = own.read;
    const by = { ...person, why: '' };
    // By this the file is no better read: it is not kept.
    await expect(analysis.decide(first, { kind: 'reading', read: { channel: 9, rate } }, by)).rejects.toThrow(
      RecordingError,
    );
    expect((await analysis.decided(first)).decisions).toEqual([]);
    await analysis.decide(first, { kind: 'reading', read: { rate } }, by);
    expect(listed(analysis)).toMatchObject({ state: 'analyzed', message: null, decided: false });
    const shown = detail.parse(await analysis.detail(first));
    // The same readings at the same times: the file's own time column counted from its first row.
    expect(shown.timeConstant?.value).toBeCloseTo(own.timeConstant?.value ?? Number.NaN, 6);
    expect(shown).toMatchObject({ message: null, decisions: [{ kind: 'reading', read: { rate } }] });
    expect((await analysis.preview(first, noMarks)).timeConstant).not.toBeNull();
    expect((await analysis.readings(first, 10, 11, 2000)).raw).toBe(true);
    expect(analysis.comparison().left.map(({ path }) => path)).not.toContain(first);

    const again = await opened(folder);
    expect(again.calls).toEqual([]);
    expect(listed(again.analysis)?.timeConstant).toEqual(shown.timeConstant);
    const experiment = await readExperiment(folder);
    const all = await measureFolder(folder, experiment, await findRecordings(folder, experiment, []));
    const measured = all.recordings.find(({ path }) => path === first);
    expect(measured?.timeConstant).toBe(shown.timeConstant?.value);
    expect(measured?.notes.map(({ code }) => code)).toContain('reading-corrected');

    await again.analysis.decide(first, { kind: 'undo', undoes: 'd1' }, person);
    await again.analysis.settled();
    expect(listed(again.analysis)?.state).toBe('unreadable');
    // Taking out needs no recording that can be read.
    await again.analysis.decide(first, { kind: 'reject' }, person);
    expect(listed(again.analysis)).toMatchObject({ state: expect.any(String), rejected: true });
    await again.analysis.settled();
  });

  test('says that decisions cannot be read, and leaves their recording out of the comparison', async () => {
    const folder = folderFor('damaged');
    mkdirSync(join(folder, 'decisions', 'recordings', 'A', 'A1'), { recursive: true });
    writeFileSync(join(folder, 'decisions', `${first}.json`), '{"decisions":[');
    const { analysis } = await opened(folder);
    const listed = analysis.list().recordings.find(({ path }) => path === first);
    expect(listed).toMatchObject({ state: 'analyzed', message: null });
    expect(listed?.note).toMatch(/^decisions\/.*is not JSON/);
    expect(analysis.comparison().left.map(({ path }) => path)).toContain(first);
  });

  test('keeps no analysis that was made by what counted before', async () => {
    const folder = folderFor('meanwhile');
    const own = await (await opened(folder)).analysis.detail(first);
    rmSync(join(folder, 'results'), { recursive: true });
    const waits: (() => void)[] = [];
    const analysis = await openAnalysis(folder, {
      analyst: async (order) => {
        const answer = await analyzeForList(order);
        await new Promise<void>((go) => waits.push(go));
        return answer;
      },
    });
    await expect.poll(() => waits.length).toBe(1);
    const { cooling } = own.used;
    const marks = { ...noMarks, cooling: { from: (cooling?.from ?? 0) + 5, to: cooling?.to ?? 0 } };
    await analysis.decide(first, { kind: 'marks', marks }, person);
    const decided = await analysis.detail(first);
    expect(decided.timeConstant).not.toEqual(own.timeConstant);
    const going = setInterval(() => waits.shift()?.(), 1);
    await analysis.settled();
    clearInterval(going);
    expect(analysis.list().recordings.find(({ path }) => path === first)?.timeConstant).toEqual(
      decided.timeConstant,
    );
  });

  test('gives single readings of a short stretch and means of a long one', async () => {
    const { analysis } = await opened(folderFor('readings'));
    const few = await analysis.readings(first, 10, 11, 2000);
    expect(readings.parse(few).raw).toBe(true);
    const many = await analysis.readings(first, 0, 1e6, 50);
    expect(many.raw).toBe(false);
    expect(many.time.length).toBeLessThanOrEqual(50);
    for (const [i, value] of many.value.entries()) {
      expect(value).toBeGreaterThanOrEqual(many.low[i] ?? Number.NaN);
      expect(value).toBeLessThanOrEqual(many.high[i] ?? Number.NaN);
    }
  });

  test('goes on past files that cannot be read, copies and faults of the experiment file', async () => {
    const folder = folderFor('odd');
    const [, second = ''] = names;
    writeFileSync(join(folder, first), 'nothing but words\n');
    cpSync(
      join(folder, 'recordings', 'A', 'A1', second),
      join(folder, 'recordings', 'A', 'A1', 'unknown.txt'),
    );
    const { analysis } = await opened(folder);
    const { recordings, unplaced } = analysis.list();
    expect(recordings.map(({ state }) => state).toSorted()).toEqual(['analyzed', 'unreadable']);
    expect(unplaced.map(({ path }) => path)).toEqual(['recordings/A/A1/unknown.txt']);
    expect(comparisonView.parse(analysis.comparison()).conditions).toHaveLength(1);
    await expect(analysis.detail('recordings/../experiment.yaml')).rejects.toThrow(UnknownRecordingError);
    writeFileSync(join(folder, 'experiment.yaml'), 'bodies: [');
    await analysis.refresh();
    expect(analysis.experiment).toBeNull();
    expect(analysis.list().recordings).toEqual([]);
  });
});
