import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { aliasOf, usefulRate } from '../../src/experiment/advice.ts';
import {
  conditionsOf,
  heatingTime,
  type MeasuredCondition,
  planSession,
  predictCondition,
  runOrder,
  type SessionFrame,
  type TimedCondition,
  timeLine,
} from '../../src/experiment/index.ts';
import { sessionsOf } from '../../src/experiment/plan-sessions.ts';
import { experimentOf } from './read.ts';

/** A rig in a measured stream, so that nothing but the body matters for the times. */
function rig(more = '', session = 'length: 110 min'): string {
  return `
room: { pressure: 101.3 kPa, temperature: 20 degC }
supply: { temperature: 20 degC }
sensor: { thermocouple: T, junction: ice, gain: 200 }
logger: { rate: 100 Hz, range: { from: -10 V, to: 10 V }, bits: 16 }
bodies:
  small: { diameter: 8 mm, material: brass }
  large: { diameter: 20 mm, material: brass }
flows: { slow: 5 m/s, fast: 20 m/s }
protocol: { target: 100 degC, baseline: 15 s, repeats: 3, ambient-offset: 0.3 K }
heating: { stream: 180 degC }
session: { ${session} }
${more}`;
}

function plan(text: string, measured: readonly MeasuredCondition[] = []) {
  const experiment = experimentOf(text);
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  return planSession(experiment, predictions, { measured });
}

describe('times of a trial', () => {
  test('cooling to an error fraction of 0.1 takes 2.3 time constants, and 0.9 to 0.1 takes 2.2', () => {
    // ln 10 and ln 9.
    for (const { timeConstant, trial } of plan(rig()).conditions) {
      expect(trial.cooling / timeConstant.value).toBeCloseTo(Math.LN10, 9);
      const window = trial.cooling + timeConstant.value * Math.log(0.9);
      expect(window / timeConstant.value).toBeCloseTo(Math.log(9), 9);
    }
  });

  test('a trial is baseline, heating, cooling and change-over', () => {
    for (const one of plan(rig()).conditions) {
      const { baseline, heating, cooling } = one.trial;
      expect(one.trialTime).toBeCloseTo(baseline + heating + cooling + 120, 9);
      expect(one.recorded).toBeCloseTo(baseline + heating + cooling, 9);
      expect(baseline).toBe(15);
    }
  });

  test('a body is back at ambient when a step of 80 K has become the 0.3 K that are allowed', () => {
    // Together ln(80/0.3) = 5.586 time constants; five leave 0.7 % of the step (common practice).
    for (const { timeConstant, trial, step } of plan(rig()).conditions) {
      expect(step).toBeCloseTo(80, 9);
      expect((trial.cooling + trial.settling) / timeConstant.value).toBeCloseTo(5.586, 3);
    }
  });

  test('heating in a stream of 180 °C from 20 to 100 °C takes ln 2 time constants of the slowest moving flow', () => {
    const { conditions } = plan(rig());
    for (const { condition, heating } of conditions) {
      const slowest = conditions.find(
        (one) => one.condition.body === condition.body && one.condition.flow === 'slow',
      );
      expect((heating.value ?? 0) / (slowest?.timeConstant.value ?? 0)).toBeCloseTo(Math.LN2, 9);
    }
  });
});

describe('heating time', () => {
  const model = {
    time: undefined,
    timeConstant: undefined,
    stream: 180,
    ambient: 20,
    target: 100,
    coolingTimeConstant: 50,
  };
  test('takes what is stated before what is computed', () => {
    expect(heatingTime({ ...model, time: 55 })).toMatchObject({ value: 55, basis: 'stated' });
    expect(heatingTime({ ...model, timeConstant: 10 }).value).toBeCloseTo(10 * Math.LN2, 12);
    expect(heatingTime({ ...model, stream: undefined })).toMatchObject({ value: 50, basis: 'assumed' });
  });
  test('is none where the stream is not hotter than the target', () => {
    const { value, reason } = heatingTime({ ...model, target: 180 });
    expect(value).toBeNull();
    expect(reason).toContain('180 °C');
    expect(heatingTime({ ...model, stream: Number.NaN }).value).toBeNull();
  });
});

describe('run order', () => {
  test('has quick bodies first, each in all flows, the quickest flow first', () => {
    const names = plan(rig()).conditions.map(({ condition }) => `${condition.body} ${condition.flow}`);
    expect(names).toEqual(['small fast', 'small slow', 'large fast', 'large slow']);
  });
  test('keeps every condition and does not depend on the order of the file', () => {
    const one = fc.record({
      condition: fc.record({ body: fc.constantFrom('a', 'b', 'c'), flow: fc.constantFrom('1', '2', '3') }),
      timeConstant: fc.record({ value: fc.double({ min: 0.1, max: 500, noNaN: true }) }),
    });
    const many = fc.uniqueArray(one, {
      selector: ({ condition }) => `${condition.body}@${condition.flow}`,
      maxLength: 9,
    });
    fc.assert(
      fc.property(many, (conditions) => {
        const ordered = runOrder(conditions);
        expect(ordered).toHaveLength(conditions.length);
        expect(runOrder([...conditions].reverse())).toEqual(ordered);
        const bodies = ordered.map(({ condition }) => condition.body);
        // A body, once left, does not come back.
        expect(bodies.filter((body, i) => body !== bodies[i - 1])).toHaveLength(new Set(bodies).size);
      }),
    );
  });
});

describe('time line', () => {
  const frame: SessionFrame = {
    length: null,
    setUp: 900,
    zeroing: 120,
    changeOver: 120,
    iceBath: 1800,
    reserve: 600,
    repeats: 2,
    zeroEvery: Number.POSITIVE_INFINITY,
  };
  const trial = { baseline: 15, heating: 25, cooling: 60, settling: 100 };
  const a: TimedCondition = { condition: { body: 'a', flow: '1' }, trial };
  const b: TimedCondition = { condition: { body: 'b', flow: '1' }, trial };

  test('adds up: set-up, zeroing, trials with the way back between them, change-over, reserve', () => {
    // 900 + 120 + (100 + 100 + 100) + 120 + 300 = 1740, and 600 of reserve.
    const line = timeLine([a, b], frame);
    expect(line.end).toBe(1740);
    expect(line.needed).toBe(2340);
    expect(line.fitting).toEqual([a.condition, b.condition]);
    // The ice bath stands for half an hour when the first trial begins.
    expect(line.stretches[0]).toMatchObject({ kind: 'ice-bath', from: -900, to: 900 });
  });

  test('waits for the same body to return to ambient while the flow is changed', () => {
    const slow = { ...a, trial: { ...trial, settling: 300 } };
    const again = { ...slow, condition: { body: 'a', flow: '2' } };
    // 1020 + (100 + 300 + 100) + 300 + 500.
    const line = timeLine([slow, again], { ...frame, length: 3600 });
    expect(line.end).toBe(2320);
    // 120 s of the 300 are the change-over, the rest is a wait; 3600 - 600 - 2320 s are spare.
    const waits = line.stretches.filter(({ kind, condition }) => kind === 'settling' && condition === null);
    expect(waits).toMatchObject([{ from: 1640, to: 1820 }]);
    expect(line.stretches.slice(-2)).toMatchObject([
      { kind: 'spare', from: 2320, to: 3000 },
      { kind: 'reserve', from: 3000, to: 3600 },
    ]);
  });

  test('zeroes again when the drift calls for it', () => {
    const zeroings = (zeroEvery: number) => {
      const { stretches } = timeLine([a, b, a, b], { ...frame, zeroEvery });
      return stretches.filter(({ kind }) => kind === 'zeroing').length;
    };
    expect(zeroings(Number.POSITIVE_INFINITY)).toBe(1);
    expect(zeroings(600)).toBe(4);
    expect(zeroings(1000)).toBe(2);
  });

  test('zeroes between the repeats of a condition that outlasts the drift', () => {
    // Trials of 100 s with 100 s between: two take 300 s, three 500 s. Five with two a zeroing: before 3 and 5.
    const line = timeLine([a], { ...frame, repeats: 5, zeroEvery: 400 });
    const zeroings = line.stretches.filter(({ kind }) => kind === 'zeroing').map(({ from }) => from);
    expect(zeroings).toEqual([900, 1420, 1940]);
    expect(line.end).toBe(1020 + 5 * 100 + 4 * 100 + 2 * 120);
  });

  test('leaves out what would run into the reserve, and takes what still fits behind it', () => {
    const long = { condition: { body: 'c', flow: '1' }, trial: { ...trial, cooling: 1000 } };
    const line = timeLine([a, long, b], { ...frame, length: 2340 });
    expect(line.fitting).toEqual([a.condition, b.condition]);
    expect(line.notFitting).toEqual([long.condition]);
    expect(line.stretches.at(-1)).toMatchObject({ kind: 'reserve', from: 1740, to: 2340 });
  });

  test('never overlaps and never runs into the reserve', () => {
    const seconds = fc.double({ min: 0, max: 500, noNaN: true });
    const timed = fc.record({
      condition: fc.record({ body: fc.constantFrom('a', 'b'), flow: fc.string() }),
      trial: fc.record({ baseline: seconds, heating: seconds, cooling: seconds, settling: seconds }),
    });
    fc.assert(
      fc.property(fc.array(timed, { maxLength: 8 }), seconds, (conditions, zeroEvery) => {
        const { stretches, end } = timeLine(conditions, { ...frame, length: 3600, zeroEvery });
        const own = stretches.filter(({ kind }) => kind !== 'ice-bath');
        own.forEach((one, i) => {
          const before = own[i - 1];
          if (before !== undefined) expect(one.from).toBeGreaterThanOrEqual(before.to - 1e-6);
        });
        expect(end).toBeLessThanOrEqual(3000 + 1e-6);
      }),
    );
  });
});

describe('plan', () => {
  test('says what does not fit, and each mend that claims to be enough is', () => {
    const short = plan(rig('benches: [b1, b2]', 'length: 60 min'));
    expect(short.timeLine.notFitting.length).toBeGreaterThan(0);
    const kinds = short.mends.map(({ kind }) => kind);
    expect(kinds).toEqual(
      expect.arrayContaining([
        'end-fraction',
        'repeats',
        'rotate',
        'strong-flow',
        'jet-off',
        'benches',
        'longer',
      ]),
    );
    const repeats = short.mends.find(({ kind }) => kind === 'repeats');
    const fewer = /once|twice/.exec(repeats?.message ?? '')?.[0] === 'once' ? 1 : 2;
    const mended = plan(
      rig('benches: [b1, b2]', 'length: 60 min').replace('repeats: 3', `repeats: ${fewer}`),
    );
    expect(mended.timeLine.notFitting.length === 0).toBe(repeats?.fits);
    expect(short.timeLine.needed - mended.timeLine.needed).toBeCloseTo(repeats?.saves ?? Number.NaN, 6);
  });

  test('a larger end fraction has its price in uncertainty', () => {
    const { mends } = plan(rig('', 'length: 60 min'));
    const mend = mends.find(({ kind }) => kind === 'end-fraction');
    const [now, then] = [...(mend?.message ?? '').matchAll(/([\d.]+) %/g)].map(([, value]) => Number(value));
    expect(then).toBeGreaterThan(now ?? Number.NaN);
  });

  test('needs no mends where everything fits or no length is stated', () => {
    expect(plan(rig('', 'length: 10 h')).mends).toEqual([]);
    const open = plan(rig('', 'set-up: 15 min'));
    expect(open.mends).toEqual([]);
    expect(open.timeLine.notFitting).toEqual([]);
    expect(open.length).toBeNull();
  });

  test('puts measured time constants in place of theory, and keeps both', () => {
    const condition = { body: 'small', flow: 'fast' };
    const measured = { condition, value: 33, standardUncertainty: 0.3, interval: [32.4, 33.6] as const };
    const { conditions } = plan(rig(), [
      measured,
      { ...measured, condition: { body: 'large', flow: 'fast' }, value: Number.NaN },
    ]);
    const one = conditions.find(
      (found) => found.condition.body === 'small' && found.condition.flow === 'fast',
    );
    expect(one?.timeConstant).toMatchObject({ value: 33, source: 'measured' });
    expect(one?.predicted.value).not.toBe(33);
    expect(one?.trial.cooling).toBeCloseTo(33 * Math.LN10, 9);
    // What is no number is not taken for a measurement.
    const other = conditions.find(
      (found) => found.condition.body === 'large' && found.condition.flow === 'fast',
    );
    expect(other?.timeConstant.source).toBe('theory');
  });

  test('lists what cannot be planned', () => {
    const cold = plan(rig().replace('stream: 180 degC', 'stream: 90 degC'));
    expect(cold.conditions).toEqual([]);
    expect(cold.unplanned).toHaveLength(4);
    expect(cold.unplanned[0]?.message).toContain('does not bring a body to 100 °C');
    const lacking = plan(rig().replace('diameter: 8 mm, ', ''));
    expect(lacking.unplanned.map(({ condition }) => condition.body)).toEqual(['small', 'small']);
    expect(plan('course: nothing yet').timeLine.fitting).toEqual([]);
  });

  test('stays finite for every protocol that the experiment file allows', () => {
    const fraction = fc.double({ min: 0.001, max: 0.999, noNaN: true });
    const protocol = fc.record({
      end: fraction,
      window: fc.tuple(fraction, fraction).filter(([a, b]) => a !== b),
      repeats: fc.integer({ min: 1, max: 50 }),
      target: fc.integer({ min: -20, max: 225 }),
      stream: fc.integer({ min: 30, max: 700 }),
      offset: fc.constantFrom('0.000001 K', '0.3 K', '50 K'),
      drift: fc.constantFrom('0 K/s', '0.05 K/min', '1 K/s'),
      baseline: fc.constantFrom('0 s', '15 s', '24 h'),
      length: fc.constantFrom('1 min', '110 min', '24 h'),
    });
    fc.assert(
      fc.property(protocol, (p) => {
        const [low, high] = [Math.min(...p.window), Math.max(...p.window)];
        const text = rig('', `length: ${p.length}`)
          .replace(
            /protocol: .*/,
            `protocol: { target: ${p.target} degC, baseline: ${p.baseline}, repeats: ${p.repeats}, ambient-offset: ${p.offset}, drift: ${p.drift}, end-fraction: ${p.end}, window: { from: ${high}, to: ${low} } }`,
          )
          .replace('180 degC', `${p.stream} degC`);
        const found = plan(text);
        expect(found.conditions.length + found.unplanned.length).toBe(4);
        expect(found.timeLine.fitting.length + found.timeLine.notFitting.length).toBe(
          found.conditions.length,
        );
        for (const { trial, design, recorded, rate } of found.conditions) {
          // A cooling that is stopped at once determines nothing.
          expect(design.relative).toBeGreaterThan(0);
          for (const value of [...Object.values(trial), recorded, rate]) {
            expect(value).toBeGreaterThanOrEqual(0);
            expect(value).toBeLessThan(Number.POSITIVE_INFINITY);
          }
        }
        const spoken = [...found.mends, ...found.advice].map(({ message }) => message).join(' ');
        expect(spoken).not.toMatch(/NaN|Infinity|undefined/);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  test('shares the conditions out over as many sessions as they need', () => {
    // Each trial takes 200 s: 1020 s before, 600 s of reserve, and two of 200 s with 120 s between fit into 2140 s.
    const timed = (body: string, cooling = 160): TimedCondition => ({
      condition: { body, flow: '1' },
      trial: { baseline: 15, heating: 25, cooling, settling: 0 },
    });
    const frame: SessionFrame = {
      length: 2140,
      setUp: 900,
      zeroing: 120,
      changeOver: 120,
      iceBath: null,
      reserve: 600,
      repeats: 1,
      zeroEvery: Number.POSITIVE_INFINITY,
    };
    const bodies = ({ held }: ReturnType<typeof sessionsOf>) =>
      held.map((one) => one.map(({ body }) => body));
    const five = sessionsOf(
      ['a', 'b', 'c', 'd', 'e'].map((body) => timed(body)),
      frame,
    );
    expect(bodies(five)).toEqual([['a', 'b'], ['c', 'd'], ['e']]);
    expect(five.tooLong).toEqual([]);
    const long = sessionsOf([timed('a'), timed('long', 500), timed('b')], frame);
    expect(bodies(long)).toEqual([['a', 'b']]);
    expect(long.tooLong.map(({ body }) => body)).toEqual(['long']);
    expect(sessionsOf([timed('a')], { ...frame, length: 10 })).toMatchObject({ held: [] });
  });

  test('names the sessions, and what fits into none', () => {
    const message = (length: string) =>
      plan(rig('', `length: ${length}`)).mends.find(({ kind }) => kind === 'longer')?.message ?? '';
    expect(message('60 min')).toMatch(/Hold \d sessions of 60 min \(1: small at fast/);
    expect(message('20 min')).toContain(
      'small at fast, small at slow, large at fast, large at slow do not fit',
    );
    expect(message('20 min')).not.toContain('Hold');
  });

  test('says that the window must end with the recording', () => {
    const mend = plan(rig('', 'length: 60 min')).mends.find(({ kind }) => kind === 'end-fraction');
    expect(mend?.message).toContain('now 0.1, must be raised');
  });

  test('invents no amplifier and no ice bath for recordings in degrees', () => {
    const found = plan(rig().replace(', junction: ice, gain: 200', ''));
    const spoken = found.advice.map(({ message }) => message).join(' ');
    expect(spoken).toContain('not in the file');
    expect(spoken).not.toMatch(/ice|step of the converter|amplifier/);
    const kinds = found.timeLine.stretches.map(({ kind }) => kind);
    expect(kinds).not.toContain('zeroing');
    expect(kinds).not.toContain('ice-bath');
    expect(
      plan(rig())
        .advice.map(({ message }) => message)
        .join(' '),
    ).not.toContain('not in the file');
  });

  test('heats no body above its limit, and says so', () => {
    const found = plan(rig().replace('target: 100 degC', 'target: 200 degF, limit: 190 degF'));
    // 190 °F is (190 - 32)/1.8 = 87.78 °C.
    for (const { step } of found.conditions) expect(step).toBeCloseTo(158 / 1.8 - 20, 9);
    const caution = found.cautions.find(({ code }) => code === 'target-over-limit');
    expect(caution?.message).toContain('above its limit');
    expect(plan(rig()).cautions.map(({ code }) => code)).not.toContain('target-over-limit');
    const own = plan(rig().replace('small: {', 'small: { limit: 80 degC,'));
    const steps = own.conditions.map(({ condition, step }) => [condition.body, Math.round(step)]);
    expect(steps).toEqual([
      ['small', 60],
      ['small', 60],
      ['large', 80],
      ['large', 80],
    ]);
  });

  test('asks for care with hot air, compressed air and mains, and defers to local rules', () => {
    const text = plan(rig())
      .cautions.map(({ message, action }) => `${message} ${action}`)
      .join(' ');
    for (const word of ['hot-air tool', 'air jet', 'mains', 'eye protection', 'rules of your house']) {
      expect(text).toContain(word);
    }
  });

  test('says when the rate folds hum into the signal', () => {
    // 50 Hz at 20 or 25 readings a second, 60 Hz at 20: a wave of 10 Hz or a steady offset (sampling theorem).
    expect(aliasOf(50, 20)).toBe(10);
    expect(aliasOf(50, 25)).toBe(0);
    expect(aliasOf(60, 20)).toBe(0);
    expect(aliasOf(50, 100)).toBe(50);
    const { advice } = plan(rig().replace('rate: 100 Hz', 'rate: 25 Hz'));
    expect(advice.find(({ severity }) => severity === 'caution')?.message).toContain('a steady offset');
  });

  test('advises a rate by time constant, noise and mains', () => {
    const noise = { white: 0.2, correlated: 0.3, correlationTime: 0.1 };
    expect(usefulRate(0.5, noise, 50)).toBe(200);
    expect(usefulRate(40, noise, 50)).toBe(120);
    // 10 (1/0.1)²/0.5 = 2000.
    expect(usefulRate(40, { white: 1, correlated: 0.1, correlationTime: 0.5 }, 50)).toBeCloseTo(2000, 9);
  });

  test('gives steps of the converter in kelvin through gain and thermocouple', () => {
    // 20 V/2^16 = 305 µV, over 200 is 1.53 µV; type T has 40.3 µV/K at 20 °C (IEC 60584-1 tables): 0.038 K.
    const found = plan(rig()).advice.find(({ about }) => about === 'resolution');
    expect(found?.message).toContain('0.038 K');
  });
});
