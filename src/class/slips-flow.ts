import type { MeterChoice } from './chain-choices.ts';
import { type PredictedSlip, when } from './predicted-slip.ts';
import type { PredictedFacts } from './student-chain.ts';

function metered({ input: { flow } }: PredictedFacts, ...kinds: readonly string[]): boolean {
  return flow.kind === 'jet' && kinds.includes(flow.meter.kind);
}

function meter(choice: MeterChoice, ...kinds: readonly string[]): PredictedSlip['apply'] {
  return when((facts) => metered(facts, ...kinds), { meter: choice });
}

const jet = ({ input }: PredictedFacts) => input.flow.kind === 'jet';

function scaleOf({ scale }: PredictedFacts, of: 'volume' | 'time', unit: number): boolean {
  return scale !== null && Math.abs(scale[of] / unit - 1) < 0.01;
}

const litre = 1e-3;
const cubicFoot = 0.3048 ** 3;
const [minute, hour] = [60, 3600];

/** What goes wrong between the flow meter and the speed at the body. */
export const flowSlips: readonly PredictedSlip[] = [
  {
    code: 'minute-for-second',
    words: 'the flow per minute was taken for the flow per second',
    odds: 0.05,
    apply: when((facts) => scaleOf(facts, 'time', minute), { flowTime: 1 / minute }),
  },
  {
    code: 'hour-for-second',
    words: 'the flow per hour was taken for the flow per second',
    odds: 0.04,
    apply: when((facts) => scaleOf(facts, 'time', hour), { flowTime: 1 / hour }),
  },
  {
    code: 'hour-for-minute',
    words: 'the flow per hour was taken for the flow per minute',
    odds: 0.03,
    apply: when((facts) => scaleOf(facts, 'time', hour), { flowTime: minute / hour }),
  },
  {
    code: 'minute-for-hour',
    words: 'the flow per minute was taken for the flow per hour',
    odds: 0.03,
    apply: when((facts) => scaleOf(facts, 'time', minute), { flowTime: hour / minute }),
  },
  {
    code: 'cubic-feet',
    words: 'cubic feet were taken for cubic metres',
    odds: 0.04,
    apply: when((facts) => scaleOf(facts, 'volume', cubicFoot), { flowVolume: 1 / cubicFoot }),
  },
  {
    code: 'litres',
    words: 'litres were taken for cubic metres',
    odds: 0.03,
    apply: when((facts) => scaleOf(facts, 'volume', litre), { flowVolume: 1 / litre }),
  },
  {
    code: 'pressure-correction-left-out',
    words:
      'the reading of the meter was taken as it is for the flow in the nozzle, without the correction for pressure',
    odds: 0.08,
    apply: meter('as-actual', 'variable-area', 'thermal-mass', 'volumetric'),
  },
  {
    code: 'standard-for-actual',
    words:
      'the reading was taken as a flow at the condition of the scale, without the root for the pressure in the meter',
    odds: 0.06,
    apply: meter('as-standard', 'variable-area'),
  },
  {
    code: 'root-left-out',
    words: 'the ratio of densities was used itself, not its square root',
    odds: 0.04,
    apply: meter('root-left-out', 'variable-area'),
  },
  {
    code: 'gauge-for-absolute',
    words: 'gauge pressure was put in for absolute pressure',
    odds: 0.08,
    apply: when(
      ({ input: { flow } }) =>
        flow.kind === 'jet' &&
        ['variable-area', 'volumetric'].includes(flow.meter.kind) &&
        'gaugePressure' in flow.meter.line.pressure,
      { meter: 'gauge' },
    ),
  },
  {
    code: 'celsius-for-kelvin',
    words: 'the temperature in the meter was put in as degrees Celsius, not kelvin',
    odds: 0.03,
    apply: meter('celsius', 'variable-area', 'volumetric'),
  },
  {
    code: 'other-standard',
    words: 'another standard temperature was taken than that of the scale',
    odds: 0.04,
    apply: meter('other-standard', 'variable-area', 'thermal-mass'),
  },
  {
    code: 'not-expanded-in-nozzle',
    words: 'the volume flow inside the meter was taken for that in the nozzle, at lower pressure',
    odds: 0.04,
    apply: meter('not-expanded', 'variable-area'),
  },
  {
    code: 'nozzle-area-pi-d-squared',
    words: 'π d² was taken for the area of the nozzle',
    odds: 0.04,
    apply: when(jet, { nozzle: 'pi-d-squared' }),
  },
  {
    code: 'nozzle-radius',
    words: "the nozzle's radius was put in for its diameter",
    odds: 0.03,
    apply: when(jet, { nozzle: 'radius' }),
  },
  {
    code: 'body-for-nozzle',
    words: "the body's diameter was put in for that of the nozzle",
    odds: 0.02,
    apply: when(jet, { nozzle: 'body' }),
  },
  {
    code: 'decay-left-out',
    words: 'the speed in the nozzle was used, though the jet has slowed down at the body',
    odds: 0.06,
    apply: when(jet, { decay: false }),
  },
];
