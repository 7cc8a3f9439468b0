import type { LinePressure } from '../prediction/index.ts';
import { parseQuantity } from '../quantity/index.ts';
import { type Read, readUncertain, type UncertainQuantity, type Within, written } from './written.ts';

/** A pressure in a line, told apart, with its standard uncertainty in Pa where one was written. */
export interface UncertainLinePressure {
  readonly pressure: LinePressure;
  readonly standardUncertainty: number | null;
}

/** A pressure that can only be absolute by what it is: of the room, of a scale. A gauge pressure is refused. */
export function absolutePressure(description: string, example: string, within: Within) {
  const read = (text: string): Read<UncertainQuantity> => {
    if (referenceOf(text) !== 'gauge') return readUncertain(text, 'pressure', within);
    return {
      ok: false,
      message: `"${text}" is a gauge pressure; this one is absolute. Write what a barometer shows, such as ${example}.`,
    };
  };
  return written(read, description, example, {
    dimension: 'pressure',
    uncertain: true,
    range: within.words,
  });
}

/** A pressure in a line: gauge and absolute differ by an atmosphere, so the text must say which it is. */
export function linePressure(description: string, example: string) {
  const read = (text: string): Read<UncertainLinePressure> => {
    const result = readUncertain(text, 'pressure', pipes);
    if (!result.ok) return result;
    const { value, standardUncertainty } = result.value;
    const reference = referenceOf(text);
    if (reference === 'gauge') {
      return { ok: true, value: { pressure: { gaugePressure: value }, standardUncertainty } };
    }
    if (reference === 'absolute') {
      return { ok: true, value: { pressure: { absolutePressure: value }, standardUncertainty } };
    }
    const bare = nominal(text);
    return {
      ok: false,
      message: `"${text}" can be gauge or absolute. Write ${bare}(g) for what a gauge shows, or ${bare}(a) for absolute pressure.`,
    };
  };
  return written(read, description, example, { dimension: 'pressure', uncertain: true, range: pipes.words });
}

const pipes: Within = { low: -1e5, high: 1.2e6, words: 'up to 12 bar(g)' };

/** The value alone, without an uncertainty behind it. */
function nominal(text: string): string {
  return text.split(/\s*(?:\+-|\+\/-|±)/)[0]?.trim() ?? text;
}

function referenceOf(text: string) {
  const parsed = parseQuantity(nominal(text), 'pressure');
  return parsed.ok ? parsed.reference : null;
}
