import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { conditionName, predictCondition, recordingPlace, staysInside } from '../../src/experiment/index.ts';
import { PracticeError, practiceSet, practiceTask, simulateRecording } from '../../src/practice/index.ts';
import { setPaths } from '../../src/practice/set-paths.ts';
import { experimentOf, templateWith } from '../experiment/read.ts';
import { plainWishes, templateExperiment, thornwickExperiment } from './wishes.ts';

const template = templateExperiment();
const set = practiceSet(template, plainWishes);

function errorOf(make: () => unknown): string {
  try {
    make();
  } catch (error) {
    if (error instanceof PracticeError) return error.message;
    throw error;
  }
  return 'nothing was thrown';
}

describe('a practice set', () => {
  test('has every measured condition of every group, by the pattern of the file', () => {
    // The template: 3 bodies in 2 flows without one left out, and 4 groups.
    expect(set.recordings).toHaveLength(5 * 4);
    expect(set.pattern).toBe(template.recordings);
    for (const { path, group, condition, repeat } of set.recordings) {
      expect(recordingPlace(template, path)).toMatchObject({
        kind: 'read',
        group: group.code,
        section: group.section,
        bench: group.bench,
        ...condition,
        repeat,
      });
    }
    expect(practiceSet(template, { ...plainWishes, repeats: null }).recordings).toHaveLength(60);
  });

  test('is the same for the same seed, and all new for another', () => {
    expect(practiceSet(template, plainWishes)).toEqual(set);
    const other = practiceSet(template, { ...plainWishes, seed: 'another' });
    for (const [i, { source }] of set.recordings.entries()) {
      expect(other.recordings[i]?.source.inputs.diameter).not.toBe(source.inputs.diameter);
      expect(other.recordings[i]?.source.trial.seed).not.toBe(source.trial.seed);
    }
  });

  test('gives each group and trial parameters of its own, whatever other groups there are', () => {
    const convections = set.recordings.map(({ source }) => source.inputs.convection);
    expect(new Set(convections).size).toBe(convections.length);
    const seeds = set.recordings.map(({ source }) => source.trial.seed);
    expect(new Set(seeds).size).toBe(seeds.length);
    const more = practiceSet(template, { ...plainWishes, groups: 9 });
    expect(more.recordings.slice(0, set.recordings.length)).toEqual(set.recordings);
    expect(more.groups.filter(({ invented }) => invented).map(({ code }) => code)).toEqual([
      'g05',
      'g06',
      'g07',
      'g08',
      'g09',
    ]);
    const repeats = practiceSet(template, { ...plainWishes, repeats: 2 }).recordings.slice(0, 2);
    // Repeats are of one body.
    expect(repeats[0]?.source.inputs.diameter).toBe(repeats[1]?.source.inputs.diameter);
    expect(repeats[0]?.source.inputs.convection).not.toBe(repeats[1]?.source.inputs.convection);
  });

  test('scatters the truth about the prediction as the file says it may be off', () => {
    // ±30 % at two standard uncertainties: 0.15, cut off at 2.5 of them, which leaves √0.9113 of it.
    const multipliers = Array.from({ length: 300 }, (_, i) => {
      const conditions = [{ body: 'aluminium-8', flow: '120' }];
      return practiceSet(template, { ...plainWishes, seed: `s${i}`, groups: 1, conditions })
        .nusseltMultiplier;
    });
    const mean = multipliers.reduce((sum, x) => sum + x, 0) / 300;
    const spread = Math.sqrt(multipliers.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 299);
    const expected = 0.15 * Math.sqrt(0.9113);
    expect(Math.abs(mean - 1)).toBeLessThan((4 * expected) / Math.sqrt(300));
    expect(Math.abs(spread / expected - 1)).toBeLessThan(4 / Math.sqrt(600));
  });

  test('is laid out by the prediction: the multiplier aside, time constants are the predicted ones', () => {
    for (const { condition, source } of set.recordings) {
      const predicted = predictCondition(template, condition, 0);
      if (!predicted.ok) throw new Error(predicted.message);
      const { convection, radiation, stem } = predicted.prediction.heatTransferCoefficient;
      const m = source.inputs.nusseltMultiplier;
      const slower = (convection + radiation + stem) / (m * convection + radiation + Math.sqrt(m) * stem);
      const ratio = source.inputs.expectedTimeConstant / (predicted.prediction.timeConstant.value * slower);
      // Density 1 %, specific heat 2 %, diameter 0.25 %, air and room: all cut off at 2.5 standard deviations.
      expect(Math.abs(ratio - 1)).toBeLessThan(0.09);
    }
  });

  test('goes by the protocol: baseline, target, limit, end fraction, and one trial after another', () => {
    const { protocol } = template;
    for (const { source } of set.recordings) {
      const { trial, inputs } = source;
      expect(trial.heatings).toHaveLength(1);
      expect(trial.heatings[0]?.from).toBeGreaterThan(1.15 * protocol.baseline);
      expect(inputs.aim).toBeGreaterThan(protocol.target ?? Number.NaN);
      expect(inputs.aim).toBeLessThanOrEqual((protocol.limit ?? Number.NaN) - 5);
      expect(trial.air.jetOffset).toBeLessThan(3 * protocol['ambient-offset']);
      expect(trial.chain.output).toMatchObject({
        kind: 'volts',
        type: 'T',
        gain: 200,
        bits: 16,
      });
    }
    const ofGroup = set.recordings.filter(({ group }) => group.code === 'A1');
    const starts = ofGroup.map(({ source }) => Date.parse(`${source.trial.logger.startedAt}Z`) / 1000);
    for (const [i, start] of starts.entries()) {
      if (i === 0) continue;
      expect(start - (starts[i - 1] ?? 0)).toBeGreaterThan(ofGroup[i - 1]?.source.trial.length ?? 0);
    }
  });

  test('comes out as it was laid out: peak over the target, end below the end fraction', () => {
    for (const { source } of set.recordings.slice(0, 5)) {
      const { truth } = simulateRecording(source.trial);
      expect(truth.peak).toBeGreaterThan(95);
      expect(truth.peak).toBeLessThan(135);
      expect(truth.endFraction).toBeLessThan(0.1);
      expect(truth.timeConstant ?? Number.NaN).toBeCloseTo(source.inputs.expectedTimeConstant, 0);
    }
  });
});

describe('other experiments', () => {
  test('the Thornwick example', () => {
    const made = practiceSet(thornwickExperiment(), { ...plainWishes, groups: 1, repeats: null });
    expect(made.recordings.length).toBeGreaterThanOrEqual(9);
    const bare = made.recordings.find(({ condition }) => condition.body === 'bare-junction');
    expect(bare?.source.trial.body.junctionLag).toBe(0);
    expect(bare?.source.trial.body.stems).toHaveLength(2);
  });

  test('a wire, as a sphere of the same volume over area and coefficient, without stems', () => {
    const text = templateWith(
      ['shape: sphere\n    diameter: 8.00 mm +- 0.02 mm', 'shape: wire\n    diameter: 1.00 mm'],
      ['  60: 60 L/min', '  slow: 4 m/s'],
      ['flow: 60,', 'flow: slow,'],
    );
    const experiment = experimentOf(text);
    const conditions = [{ body: 'aluminium-8', flow: 'slow' }];
    const [made] = practiceSet(experiment, { ...plainWishes, groups: 1, rate: 50, conditions }).recordings;
    if (made === undefined) throw new Error('there is no recording');
    const { trial, inputs } = made.source;
    expect(trial.body.diameter / inputs.diameter).toBeCloseTo(1.5, 5);
    expect(trial.body.stems).toEqual([]);
    const predicted = predictCondition(
      { ...experiment, sensor: { ...experiment.sensor, wires: [] } },
      conditions[0] ?? { body: '', flow: '' },
      0,
    );
    if (!predicted.ok) throw new Error(predicted.message);
    // The lumped body: tau goes with one over the Nusselt number, radiation being small.
    const ratio =
      (inputs.expectedTimeConstant * inputs.nusseltMultiplier) / predicted.prediction.timeConstant.value;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.12);
    expect(simulateRecording(trial).truth.timeConstant ?? 0).toBeCloseTo(inputs.expectedTimeConstant, 0);
  });

  test('still air, degrees, a resistance sensor, no logger, no groups, no benches, no pattern', () => {
    const experiment = experimentOf(`
room: { pressure: 100 kPa, temperature: 22 degC }
sensor: { resistance: Pt100 }
bodies: { small: { diameter: 6 mm, material: copper } }
flows: { still: still }
protocol: { target: 80 degC }
`);
    const made = practiceSet(experiment, { ...plainWishes, rate: null });
    const [first] = made.recordings;
    if (first === undefined) throw new Error('there is no recording');
    expect(made.pattern).toBe('recordings/{group}/{body}_{flow}_{repeat}');
    expect(first.path).toBe('recordings/g01/small_still_1.txt');
    expect(first.source.trial.chain.output).toMatchObject({ kind: 'degrees', unit: 'degC' });
    expect(first.source.trial.air.coefficient).toBeGreaterThan(3);
    expect(simulateRecording(first.source.trial).truth.endFraction).toBeLessThan(0.1);
  });

  test('whatever it lacks is named with its key', () => {
    const message = errorOf(() => {
      practiceSet(experimentOf('bodies: { a: { diameter: 8 mm } }\nflows: { b: 4 m/s }'), plainWishes);
    });
    for (const key of ['bodies › a › material', 'protocol › target', 'under room', 'under supply']) {
      expect(message).toContain(key);
    }
    expect(errorOf(() => practiceSet(experimentOf('course: x'), plainWishes))).toContain(
      'list bodies and flows',
    );
    const channel = experimentOf(templateWith(['junction: ice', 'junction: Terminal']));
    expect(errorOf(() => practiceSet(channel, plainWishes))).toMatch(/"Terminal".*Write ice/);
  });

  test('wishes that cannot be met say what to ask for', () => {
    const ask = (wishes: object) => errorOf(() => practiceSet(template, { ...plainWishes, ...wishes }));
    expect(ask({ groups: 0 })).toContain('1 to 500');
    expect(ask({ groups: 501 })).toContain('1 to 500');
    expect(ask({ repeats: 51 })).toContain('1 to 50');
    expect(ask({ groups: 500, repeats: 50 })).toContain('fewer groups');
    expect(ask({ rate: 1e6 })).toContain('10 kHz');
    expect(ask({ date: '2026-02-31' })).toContain('no date');
    expect(ask({ conditions: [{ body: 'brass-12', flow: '60' }] })).toContain('brass-12 at 120');
    expect(ask({ conditions: [] })).toContain('measured conditions');
  });
});

describe('paths', () => {
  const group = { code: 'g', section: null, bench: 'b', invented: false };
  const place = (code: string, body: string, flow: string) => ({
    group: { ...group, code },
    condition: { body, flow },
    repeat: 1,
  });

  test('of codes that run together get a folder for each', () => {
    const placed = [place('g', 'a', 'b_c'), place('g', 'a_b', 'c')];
    const experiment = {
      ...experimentOf('bodies: { a: {}, a_b: {} }\nflows: { b_c: still, c: still }\ngroups: { g: {} }'),
    };
    expect(setPaths(experiment, placed, false).pattern).toBe('recordings/{group}/{body}/{flow}/{repeat}');
  });

  test('follow the pattern of the file only where it tells all recordings apart', () => {
    const text = 'bodies: { a: {} }\nflows: { b: still }\ngroups: { g: {}, h: {} }\nrecordings: ';
    const placed = [place('g', 'a', 'b'), place('h', 'a', 'b')];
    const pattern = (own: string) => setPaths(experimentOf(`${text}"${own}"`), placed, false).pattern;
    expect(pattern('raw/{group}-{body}-{flow}.csv')).toBe('raw/{group}-{body}-{flow}.csv');
    expect(pattern('raw/{body}-{flow}')).toBe('recordings/{group}/{body}_{flow}_{repeat}');
    expect(pattern('.hidden/{group}-{body}-{flow}')).toBe('recordings/{group}/{body}_{flow}_{repeat}');
  });

  test('never leave their folder and are names that every system takes', () => {
    for (const code of ['con', 'NUL', 'com1', 'a.', 'lpt9.x']) {
      const text = (group: string) => `bodies: { a: {} }\nflows: { b: still }\ngroups: { ${group}: {} }`;
      // An experiment file does not get so far, a list of groups from elsewhere does.
      expect(() => experimentOf(text(code))).toThrow(`groups › ${code}`);
      const experiment = experimentOf(text('A1'));
      expect(errorOf(() => setPaths(experiment, [place(code, 'a', 'b')], false))).toContain(`"${code}"`);
    }
    for (const path of ['../a', 'a/../b', '/a', 'a//b', 'a\\b', 'a\u0000', '.a/b', 'a/b ', 'c:/a', '']) {
      expect(staysInside(path, 12)).toBe(false);
    }
    fc.assert(
      fc.property(
        fc.array(fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9_-]{0,9}$/), { minLength: 1, maxLength: 4 }),
        (parts) => {
          fc.pre(parts.every((part) => !/^(con|prn|aux|nul|com\d|lpt\d)$/i.test(part)));
          expect(staysInside(parts.join('/'), 12)).toBe(true);
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });
});

describe('the task of a group', () => {
  const recordings = set.recordings.filter(({ group }) => group.code === 'A1');
  const task = practiceTask(template, 'A1', recordings);

  test('names files, bodies, flows and rig, and gives nothing away', () => {
    for (const { condition } of recordings) {
      expect(task).toContain(`| ${condition.body} | ${condition.flow} |`);
    }
    expect(task).toContain('7.71 g');
    expect(task).toContain('101.325 kPa');
    expect(task).toContain('gain of 200');
    expect(task).toContain('1.3 mV');
    const { inputs } = recordings[0]?.source ?? {};
    expect(task).not.toContain(set.seed);
    expect(task).not.toContain(String(inputs?.convection));
    expect(task.split('\n').length).toBeLessThan(60);
  });

  test('takes words of the file for words', () => {
    const named = { ...template, course: '# <b>x</b> | [y](z)' };
    expect(practiceTask(named, 'A1', recordings)).toContain('\\# \\<b\\>x\\</b\\> \\| \\[y\\](z)');
  });

  test('is of each condition once', () => {
    const twice = practiceSet(template, { ...plainWishes, groups: 1, repeats: 5, exercise: true });
    const text = practiceTask(template, 'A1', twice.recordings);
    expect(text).toContain('brass-12_120_1.txt to brass-12_120_5.txt');
    const names = new Set(twice.recordings.map(({ condition }) => conditionName(condition)));
    expect(text.match(/ to /g)?.length).toBeGreaterThanOrEqual(names.size);
  });
});
