import {
  type Read,
  readQuantity,
  readUncertain,
  type UncertainQuantity,
  type Within,
  written,
} from './written.ts';

/** What a code for a flow stands for. */
export type FlowSetting =
  | { readonly kind: 'still'; readonly written: string }
  /** Speed of the air at the body, m/s. */
  | { readonly kind: 'speed'; readonly written: string; readonly speed: UncertainQuantity }
  /** Reading of the flow meter: m³/s, or kg/s where mass is counted. */
  | {
      readonly kind: 'metered';
      readonly written: string;
      readonly counts: 'volume' | 'mass';
      readonly reading: UncertainQuantity;
    };

/** A flow as it is set: the reading of the meter, a speed that was measured, or `still`. */
export function flowSetting(description: string) {
  return written(readFlow, description, '120 L/min', {
    dimension: 'flow',
    uncertain: true,
    range: `${positive.words}; ${speeds.words}`,
  });
}

const positive: Within = { low: 1e-9, high: 10, words: 'a flow above 0, as on the scale of the meter' };
const positiveMass: Within = { low: 1e-9, high: 1e5, words: 'a flow above 0, as on the scale of the meter' };
const speeds: Within = { low: 1e-3, high: 300, words: 'a speed above 0 and up to 300 m/s, or still' };

function readFlow(text: string): Read<FlowSetting> {
  const tidy = text.trim();
  if (tidy === 'still') return { ok: true, value: { kind: 'still', written: tidy } };
  const speed = readUncertain(tidy, 'speed', speeds);
  if (speed.ok) return { ok: true, value: { kind: 'speed', written: tidy, speed: speed.value } };
  const reading = readReading(tidy);
  if (!reading.ok) return reading;
  return { ok: true, value: { kind: 'metered', written: tidy, ...reading.value } };
}

/** A reading of a flow meter, or the end of its scale: m³/s or kg/s. */
export interface MeterReading {
  readonly counts: 'volume' | 'mass';
  readonly reading: UncertainQuantity;
}

/** Reads `120 L/min` or `2.4 g/s`, each with an uncertainty behind `+-` if there is one. */
export function readReading(text: string): Read<MeterReading> {
  const perTime = /^([^/±]*[kKmM]?g)\s*\/\s*(s|min|h)$/.exec(
    text.split(/\s*(?:\+-|\+\/-|±)/)[0]?.trim() ?? '',
  );
  if (perTime === null) {
    const volume = readUncertain(text, 'flow', positive);
    return volume.ok ? { ok: true, value: { counts: 'volume', reading: volume.value } } : volume;
  }
  const [, amount = '', per = 's'] = perTime;
  const time = readQuantity(`1 ${per}`, 'time');
  const mass = readUncertain(text.replaceAll(/\s*\/\s*(s|min|h)(?=\s|\+|±|$)/g, ''), 'mass', positiveMass);
  if (!mass.ok) return { ok: false, message: mass.message.replaceAll(`"${amount}"`, `"${text}"`) };
  const seconds = time.ok ? time.value : 1;
  const { value, standardUncertainty } = mass.value;
  return {
    ok: true,
    value: {
      counts: 'mass',
      reading: {
        value: value / seconds,
        standardUncertainty: standardUncertainty === null ? null : standardUncertainty / seconds,
      },
    },
  };
}
