/** How long a body is heated, and where that comes from. */
export interface HeatingTime {
  /** s; null where the body cannot become as hot. */
  readonly value: number | null;
  /** `stated`: seen before; `stream`: from the temperature of the hot air; `assumed`: nothing is known. */
  readonly basis: 'stated' | 'stream' | 'assumed';
  /** One sentence: how it was found. */
  readonly reason: string;
}

/** What the heating model needs. Temperatures in °C, times in s. */
export interface HeatingModel {
  /** Heating time as it was seen. */
  readonly time: number | undefined;
  /** Time constant of the body in the hot stream, where stated. */
  readonly timeConstant: number | undefined;
  /** Of the hot air where the body stands. */
  readonly stream: number | undefined;
  readonly ambient: number;
  readonly target: number;
  /** Time constant of the cooling, which stands for that of the heating where none is stated. */
  readonly coolingTimeConstant: number;
}

/**
 * Time to heat a body: as stated; or tau ln((stream - ambient)/(stream - target)), the lumped body in a steady stream
 * (Incropera et al., 6th ed., Eq. 5.6); or one time constant where nothing is known of the stream.
 */
export function heatingTime(model: HeatingModel): HeatingTime {
  const { time, timeConstant, stream, ambient, target, coolingTimeConstant } = model;
  if (time !== undefined) return { value: time, basis: 'stated', reason: 'The heating time is stated.' };
  const tau = timeConstant ?? coolingTimeConstant;
  const whose =
    timeConstant === undefined
      ? 'the time constant of heating taken as that of cooling in the weakest moving flow, where it has one'
      : 'the stated time constant of heating';
  if (stream === undefined) {
    return {
      value: tau,
      basis: 'assumed',
      reason: `No temperature of the hot air is stated: one time constant is assumed, with ${whose}.`,
    };
  }
  if (!(stream > target)) {
    return {
      value: null,
      basis: 'stream',
      reason: `Hot air of ${shown(stream)} °C does not bring a body to ${shown(target)} °C.`,
    };
  }
  return {
    value: tau * Math.max(0, Math.log((stream - ambient) / (stream - target))),
    basis: 'stream',
    reason: `To ${shown(target)} °C in hot air of ${shown(stream)} °C, with ${whose}.`,
  };
}

function shown(value: number): string {
  return String(Number(value.toPrecision(3)));
}
