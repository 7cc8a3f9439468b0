import type { Chain, ReferenceJunction, ThermocoupleChain, ToleratedSensor } from './chain.ts';
import { thermocoupleReference } from './thermocouple.ts';
import { platinumTolerance, thermocoupleTolerance, uniformUncertainty } from './tolerance.ts';
import type { ChainUncertainty } from './types.ts';
import { thermocoupleZero } from './zero.ts';

/**
 * Standard uncertainty of a reference junction where none is given, K. Common practice, no source: a well-kept ice
 * bath is good to a few hundredths and a classroom's to a tenth; a thermometer beside the terminals to half a kelvin.
 */
const usualJunction: Readonly<Record<ReferenceJunction['kind'], number>> = {
  ice: 0.1,
  fixed: 0.5,
  channel: 0.5,
};

const nothing: ChainUncertainty = { offset: 0, scale: 0, nonlinearity: 0 };

/** Points on which the effect of a source is followed over the span. */
const gridPoints = 33;

/**
 * What is known of a chain's accuracy, as an offset, a scale and a departure from a straight scale over the span in
 * use. The three matter differently: a time constant whose ambient is read on the same channel is not touched by
 * offset or scale at all, and one whose ambient is given feels all three.
 *
 * @param cold lowest temperature in use, °C
 * @param hot highest temperature in use, °C
 */
export function chainUncertainty(chain: Chain, cold: number, hot: number): ChainUncertainty {
  switch (chain.kind) {
    case 'degrees':
      return pooled([
        { ...nothing, ...chain.accuracy },
        chain.tolerance === undefined ? nothing : toleranceUncertainty(chain.tolerance, cold, hot),
      ]);
    case 'thermocouple':
      return pooled([
        ...thermocoupleSources(chain).map((source) => splitSource(source, cold, hot)),
        chain.toleranceClass === undefined
          ? nothing
          : toleranceUncertainty(
              { sensor: 'thermocouple', type: chain.type, class: chain.toleranceClass },
              cold,
              hot,
            ),
      ]);
    case 'resistance':
      return chain.toleranceClass === undefined
        ? nothing
        : toleranceUncertainty({ sensor: 'platinum', class: chain.toleranceClass }, cold, hot);
    case 'linear':
      return { offset: chain.offsetUncertainty ?? 0, scale: chain.slopeUncertainty ?? 0, nonlinearity: 0 };
  }
}

/** By how many kelvin one standard uncertainty of a source moves a reading at temperature t. */
type Source = (t: number) => number;

function thermocoupleSources(chain: ThermocoupleChain): readonly Source[] {
  const { emf, seebeck } = thermocoupleReference(chain.type);
  const { junction } = chain;
  // A recorded junction moves with the room; its accuracy is taken at 20 °C, where the coefficient hardly varies.
  const end = junction.kind === 'ice' ? 0 : junction.kind === 'fixed' ? junction.temperature : 20;
  const junctionVolts = seebeck(end) * (junction.standardUncertainty ?? usualJunction[junction.kind]);
  const zeroVolts = thermocoupleZero(chain).standardUncertainty / chain.gain;
  const gain = chain.gainUncertainty ?? 0;
  return [
    (t) => junctionVolts / seebeck(t),
    (t) => zeroVolts / seebeck(t),
    (t) => ((emf(t) - emf(end)) * gain) / seebeck(t),
  ];
}

/** A source's effect taken apart: at the cold end, per kelvin of span, and farthest from the chord between. */
function splitSource(source: Source, cold: number, hot: number): ChainUncertainty {
  const atCold = source(cold);
  const span = hot - cold;
  const rise = source(hot) - atCold;
  let farthest = 0;
  for (let k = 1; k < gridPoints; k++) {
    const part = k / gridPoints;
    farthest = Math.max(farthest, Math.abs(source(cold + part * span) - atCold - part * rise));
  }
  return { offset: Math.abs(atCold), scale: span > 0 ? Math.abs(rise) / span : 0, nonlinearity: farthest };
}

/**
 * What a tolerance class leaves open. The deviation of a real sensor is a smooth curve inside the band, of which
 * the class tells the width w only (taken as uniform, w/√3). For each of the three the worst use of the band is
 * taken: all of it a common offset at the cold end; all of it a rise over the span; all of it a curve of the
 * second degree, which leaves its chord by a quarter of what it reaches at the end.
 */
function toleranceUncertainty(sensor: ToleratedSensor, cold: number, hot: number): ChainUncertainty {
  const halfWidth = (t: number) =>
    sensor.sensor === 'thermocouple'
      ? thermocoupleTolerance(sensor.type, sensor.class, t)
      : platinumTolerance(sensor.class, t);
  // Where the class ends inside the span, the end that it covers speaks for both.
  const atCold = halfWidth(cold) ?? halfWidth(hot) ?? 0;
  const atHot = halfWidth(hot) ?? atCold;
  const span = hot - cold;
  return {
    offset: uniformUncertainty(atCold),
    scale: span > 0 ? uniformUncertainty(atHot) / span : 0,
    nonlinearity: uniformUncertainty(atHot) / 4,
  };
}

/** Independent contributions add as squares. */
function pooled(parts: readonly ChainUncertainty[]): ChainUncertainty {
  const root = (pick: (part: ChainUncertainty) => number) => Math.hypot(...parts.map(pick));
  return {
    offset: root((part) => part.offset),
    scale: root((part) => part.scale),
    nonlinearity: root((part) => part.nonlinearity),
  };
}
