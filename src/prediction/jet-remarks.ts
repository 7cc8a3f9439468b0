import type { Remark } from '../remark/index.ts';
import type { ChainParameters, ChainState } from './chain.ts';
import type { MeteredJet, PredictionInput } from './input.ts';
import { coreWidth, jetRange, speedOfSound } from './jet.ts';
import { remark, shown } from './sentence.ts';

function meterRemark({ meter }: MeteredJet, p: ChainParameters, gauge: boolean): Remark | null {
  if (meter.kind !== 'variable-area') return null;
  const line = gauge ? p.roomPressure + p.linePressure : p.linePressure;
  const ratio = (line / meter.reference.pressure) * (meter.reference.temperature / meter.line.temperature);
  // The mass flow goes with the root of the density, so this is what leaving the correction out would cost.
  const change = Math.sqrt(ratio) - 1;
  if (Math.abs(change) < 0.02) return null;
  return remark(
    'meter-conditions',
    'note',
    `The air in the meter is not at the condition of its scale: the mass flow is ${shown(Math.abs(100 * change))} % ${change > 0 ? 'above' : 'below'} what the scale says.`,
    'Check pressure and temperature in the meter, and that the gauge sits where the float is.',
  );
}

function speedRemark(speed: number): Remark | null {
  if (speed >= 0.3 && speed <= 120) return null;
  return remark(
    'speed-implausible',
    'caution',
    `The air would reach the body at ${shown(speed)} m/s.`,
    'Check the unit of the flow (per minute or per hour for per second), the nozzle and the pressure in the meter.',
  );
}

function narrowRemark({ nozzle }: MeteredJet, p: ChainParameters): Remark | null {
  const core = coreWidth(nozzle.diameter, p.standOff / p.nozzleDiameter, p.decayConstant);
  if (p.diameter <= core) return null;
  const wider = p.diameter > nozzle.diameter;
  return remark(
    'jet-narrow',
    wider ? 'caution' : 'note',
    wider
      ? `The body is ${shown(p.diameter * 1e3)} mm wide, wider than the nozzle of ${shown(nozzle.diameter * 1e3)} mm.`
      : `The body is ${shown(p.diameter * 1e3)} mm wide and the undisturbed core of the jet ${shown(core * 1e3)} mm where it stands.`,
    wider
      ? 'Use a wider nozzle or a smaller body: the correlations are for an even stream around the whole body.'
      : 'Move the body towards the nozzle or use a wider one: the correlations are for an even stream.',
  );
}

function decayRemarks(
  { nozzle }: MeteredJet,
  p: ChainParameters,
  state: ChainState,
): readonly (Remark | null)[] {
  const distance = nozzle.standOff / nozzle.diameter;
  if (distance <= p.decayConstant) return [];
  const reynolds = (state.air.density * state.nozzleSpeed * nozzle.diameter) / state.air.viscosity;
  const outside = distance > jetRange.standOff || reynolds < jetRange.reynolds;
  return [
    remark(
      'jet-decayed',
      outside ? 'caution' : 'note',
      `The body stands ${shown(distance)} nozzle diameters away, beyond the core: the speed has fallen to ${shown((100 * p.decayConstant) / distance)} % by the decay law${outside ? `, which is not sure at a jet Reynolds number of ${shown(reynolds)}` : ''}.`,
      'Move the body to within five nozzle diameters, or measure the speed where it stands.',
    ),
  ];
}

/** What there is to say of flow meter, nozzle and jet. */
export function jetRemarks(
  input: PredictionInput,
  p: ChainParameters,
  state: ChainState,
): readonly (Remark | null)[] {
  const { flow } = input;
  if (flow.kind === 'still') return [];
  if (flow.kind === 'speed') return [speedRemark(state.speed)];
  const mach = state.nozzleSpeed / speedOfSound(flow.temperature);
  return [
    meterRemark(flow, p, 'gaugePressure' in flow.meter.line.pressure),
    speedRemark(state.speed),
    mach > jetRange.mach
      ? remark(
          'jet-fast',
          'caution',
          `The jet leaves the nozzle at ${shown(mach)} times the speed of sound.`,
          'Check the flow; above 0.3 the air is compressed and warms up where it stops, which is not allowed for.',
        )
      : null,
    narrowRemark(flow, p),
    ...decayRemarks(flow, p, state),
  ];
}
