import type { BenchTrial, Heating } from './bench-types.ts';
import type { Spoiled, TrialFault } from './fault-types.ts';
import { roundedDraw } from './labelled-draws.ts';

/*
 * Faults of the trial itself: times, heat, jet, adhesive. Each is drawn so large that one who knows the experiment
 * would call it a fault on seeing the trace, and seldom larger (common practice, no source, but where one is named).
 */

/** A baseline of a tenth to four tenths of what the protocol asks for: the ambient is known half as well at most. */
const baselineShort: TrialFault = {
  name: 'baseline-short',
  about: 'heating began after 10 to 40 % of the baseline that the protocol asks for',
  apply({ trial, facts }, draws) {
    const asked = facts.shortestBaseline;
    const first = trial.heatings[0];
    if (first === undefined || asked < 5) return no('the protocol asks for no baseline of 5 s or more');
    const left = roundedDraw(Math.max(0.5, asked * draws.between(0.1, 0.4)));
    return yes(later(trial, left - first.from), { 'baseline, s': left, 'asked for, s': asked });
  },
};

/** An error of 5 % of the step in the ambient moves the classroom's time constant by 12 to 25 %. */
const zeroDrifted: TrialFault = {
  name: 'zero-drifted',
  about: 'the zero moved by 5 to 10 % of the step over the recording',
  apply({ trial, facts }, draws) {
    const drift = draws.between(0.05, 0.1) * (facts.aim - facts.ambient) * (draws.index(2) === 0 ? -1 : 1);
    const zeroDrift = roundedDraw(drift / trial.length);
    return yes(
      { ...trial, chain: { ...trial.chain, zeroDrift } },
      { 'drift over the recording, K': roundedDraw(drift), 'drift, K/s': zeroDrift },
    );
  },
};

const weakJet = 'the air of the condition hardly moves';

/** The jet was never opened; the group waited at most half as long again as it should take. */
const jetOff: TrialFault = {
  name: 'jet-off',
  about: 'the jet was never opened: the body cooled in still air',
  apply({ trial, facts }, draws) {
    const share = facts.stillShare;
    if (share === null || share > 0.6) return no(weakJet);
    const off = heatOff(trial);
    const slower = {
      ...trial,
      length: roundedDraw(off + (trial.length - off) * draws.between(1, 1.5)),
      body: {
        ...trial.body,
        stems: trial.body.stems.map((stem) => ({
          ...stem,
          coefficient: roundedDraw(stem.coefficient * share),
        })),
      },
      air: {
        ...trial.air,
        jetOffset: 0,
        coefficient: roundedDraw(trial.air.coefficient * share),
        coefficientFluctuation: null,
        turbulence: { standardDeviation: 0.1, correlationTime: 2 },
      },
    };
    return yes(slower, { 'part of the jet’s coefficient': roundedDraw(share) });
  },
};

/** Turned away or closed in part, or opened, while the body had between two thirds and four tenths of its step. */
const jetChanged: TrialFault = {
  name: 'jet-changed',
  about: 'half-way through the cooling the heat transfer fell to 30 to 55 %, or rose to 1.8 to 2.5 times',
  apply({ trial, facts }, draws) {
    if (facts.stillShare === null || facts.stillShare > 0.6) return no(weakJet);
    const off = heatOff(trial);
    const at = roundedDraw(off + facts.timeConstant * draws.between(0.4, 0.9));
    const fell = draws.between(0.3, 0.55);
    const rose = draws.between(1.8, 2.5);
    const factor = draws.index(3) === 0 ? rose : Math.max(fell, facts.stillShare);
    return yes(
      {
        ...trial,
        air: { ...trial.air, jetChange: { at, factor } },
        length: roundedDraw(at + (trial.length - at) / Math.min(1, factor)),
      },
      { 'at, s': at, 'factor of the coefficient': factor },
    );
  },
};

/** Heated, let cool by half a time constant or more, and heated again. */
const heatedTwice: TrialFault = {
  name: 'heated-twice',
  about: 'a first heating was broken off, and a second followed after 0.5 to 1.2 time constants',
  apply({ trial, facts }, draws) {
    const second = trial.heatings[0];
    if (second === undefined) return no('nothing was heated');
    const seconds = second.to - second.from;
    const first = { ...second, to: roundedDraw(second.from + seconds * draws.between(0.4, 0.8)) };
    const gap = facts.timeConstant * draws.between(0.5, 1.2);
    const { ambient } = facts;
    const lag = first.rise - first.tail;
    const reached = (first.to - first.from - lag) / facts.heatingTimeConstant;
    const top = (first.stream - ambient) * -Math.expm1(-Math.max(0, reached));
    const left = ambient + top * Math.exp(-gap / facts.timeConstant);
    const from = roundedDraw(first.to + gap);
    const to = roundedDraw(from + heatingSeconds(second, facts.heatingTimeConstant, left, facts.aim));
    return yes(
      {
        ...trial,
        heatings: [first, { ...second, from, to }],
        length: roundedDraw(to + trial.length - second.to),
      },
      { 'first heating ends, s': first.to, 'second begins, s': from },
    );
  },
};

/** Far enough over the limit that no reading of the scale excuses it. */
const overLimit: TrialFault = {
  name: 'over-limit',
  about: 'heated above the limit by 8 to 20 % of the step up to it',
  apply({ trial, facts }, draws) {
    const heating = trial.heatings[0];
    const { limit, ambient } = facts;
    if (limit === null || heating === undefined)
      return no('the experiment file states no limit for its body');
    const aim = limit + (limit - ambient) * draws.between(0.08, 0.2);
    const stream = roundedDraw(Math.max(heating.stream, ambient + (aim - ambient) / 0.9));
    const hotter = { ...heating, stream };
    const to = roundedDraw(heating.from + heatingSeconds(hotter, facts.heatingTimeConstant, ambient, aim));
    return yes(
      {
        ...trial,
        heatings: [{ ...hotter, to }],
        length: roundedDraw(to + trial.length - heating.to),
      },
      { 'aimed at, degC': roundedDraw(aim), 'limit, degC': limit },
    );
  },
};

/** At least two and a half times the error fraction that was asked for, and at least three tenths of the step. */
const stoppedEarly: TrialFault = {
  name: 'stopped-early',
  about: 'the logger was stopped at an error fraction of 0.3 to 0.65, 2.5 times the one asked for or more',
  apply({ trial, facts }, draws) {
    const least = Math.max(0.3, 2.5 * facts.endFraction);
    if (least > 0.6) return no('the protocol asks for no longer cooling');
    const fraction = draws.between(least, 0.65);
    const length = roundedDraw(heatOff(trial) + facts.timeConstant * Math.log(1 / fraction));
    return yes(
      { ...trial, length },
      { 'error fraction at the end': fraction, 'asked for': facts.endFraction },
    );
  },
};

/** A contact that gave way before the peak: the junction lags behind the body by a tenth of its time constant or more. */
const meltedAdhesive: TrialFault = {
  name: 'melted-adhesive',
  about: 'the adhesive gave way below the peak: the junction lags by 10 to 25 % of the time constant',
  apply({ trial, facts }, draws) {
    if (trial.body.junctionLag === 0) return no('a bare junction has no adhesive');
    const above = roundedDraw(facts.aim - (facts.aim - facts.ambient) * draws.between(0.1, 0.3));
    const lag = roundedDraw(facts.timeConstant * draws.between(0.1, 0.25));
    return yes(
      { ...trial, body: { ...trial.body, melting: { above, lag } } },
      { 'gave way at, degC': above, 'lag, s': lag },
    );
  },
};

export const faultsOfTheTrial: readonly TrialFault[] = [
  baselineShort,
  zeroDrifted,
  jetOff,
  jetChanged,
  heatedTwice,
  overLimit,
  stoppedEarly,
  meltedAdhesive,
];

function no(why: string): Spoiled {
  return { ok: false, why };
}

function yes(trial: BenchTrial, numbers: Readonly<Record<string, number | string>>): Spoiled {
  return { ok: true, trial, numbers };
}

function heatOff({ heatings }: BenchTrial): number {
  return heatings.at(-1)?.to ?? 0;
}

/** The same trial begun earlier or later, by s. */
function later(trial: BenchTrial, seconds: number): BenchTrial {
  const moved = (time: number) => roundedDraw(time + seconds);
  return {
    ...trial,
    heatings: trial.heatings.map((one) => ({ ...one, from: moved(one.from), to: moved(one.to) })),
    length: moved(trial.length),
  };
}

/** Time in the stream from one temperature to another, s. */
function heatingSeconds(
  { stream, rise, tail }: Heating,
  timeConstant: number,
  from: number,
  to: number,
): number {
  return Math.max(0.3, timeConstant * Math.log((stream - from) / (stream - to)) + rise - tail);
}
