import { z } from 'zod';
import { type Dimension, parseQuantity } from '../quantity/index.ts';

/** A value with the standard uncertainty that was written behind it, both in SI; temperatures in °C. */
export interface UncertainQuantity {
  readonly value: number;
  /** Null where none was written. */
  readonly standardUncertainty: number | null;
}

/** Limits in SI (°C), and how they are said: `60 kPa to 110 kPa, not reduced to sea level`. */
export interface Within {
  readonly low: number;
  readonly high: number;
  readonly words: string;
}

/** A quantity that was read, or one sentence or two on what is wrong and what to write. */
export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly message: string };

/**
 * Reads a number with its unit and holds it against limits.
 *
 * @param text as `12 mm`
 * @param within limits, where there are any
 */
export function readQuantity(text: string, dimension: Dimension, within?: Within): Read<number> {
  const parsed = parseQuantity(text, dimension);
  if (!parsed.ok) return { ok: false, message: `${parsed.problem} ${parsed.mend}` };
  return inside(text, parsed.value, within);
}

function inside(text: string, value: number, within: Within | undefined): Read<number> {
  if (within === undefined || (value >= within.low && value <= within.high)) return { ok: true, value };
  return { ok: false, message: `"${text}" is not possible here. Write ${within.words}.` };
}

const between = /\s*(?:\+-|\+\/-|±)\s*/;

/**
 * Reads a value that may carry its standard uncertainty: `12 mm`, `12.00 mm +- 0.02 mm`, `12.00 +- 0.02 mm`,
 * `7.7 g +- 0.2 %`. A percentage is a part of the value, but for ratios (50 % +- 5 % is 45 % to 55 %).
 *
 * @param text what was written
 * @param within limits for the value
 */
export function readUncertain(text: string, dimension: Dimension, within?: Within): Read<UncertainQuantity> {
  const [first = '', second, ...more] = text.split(between);
  if (more.length > 0)
    return { ok: false, message: 'Write +- once, with the standard uncertainty behind it.' };
  if (second === undefined) {
    const read = readQuantity(first, dimension, within);
    return read.ok ? { ok: true, value: { value: read.value, standardUncertainty: null } } : read;
  }
  const bare = /^[+-]?[\d.]+(?:[eE][+-]?\d+)?$/.test(first);
  const unit = /^[\d.]+(?:[eE][+-]?\d+)?(.*)$/.exec(second)?.[1] ?? '';
  const value = readQuantity(bare ? `${first}${unit}` : first, dimension, within);
  if (!value.ok) return value;
  const uncertainty = readStandardUncertainty(second, dimension, value.value);
  if (!uncertainty.ok) return uncertainty;
  return { ok: true, value: { value: value.value, standardUncertainty: uncertainty.value } };
}

function readStandardUncertainty(text: string, dimension: Dimension, value: number): Read<number> {
  const relative = dimension !== 'ratio' && dimension !== 'temperature' && /%\s*$/.test(text);
  const read = relative
    ? readQuantity(text, 'ratio')
    : readQuantity(text, dimension === 'temperature' ? 'temperature-difference' : dimension);
  if (!read.ok) return read;
  const uncertainty = relative ? read.value * Math.abs(value) : read.value;
  if (uncertainty >= 0) return { ok: true, value: uncertainty };
  return { ok: false, message: `The uncertainty "${text}" is below 0. Write it without a sign.` };
}

/** What a description of the file says of a field beyond its sentence. */
export interface FieldFacts {
  /** What its units measure; null for what is no quantity. */
  readonly dimension: Dimension | null;
  /** Whether a standard uncertainty may stand behind it. */
  readonly uncertain: boolean;
  /** What is taken, in the words of the message that refuses the rest; null where that says nothing. */
  readonly range: string | null;
}

/** By the schema of the field itself, below what makes it optional. */
export const fieldFacts = z.registry<FieldFacts>();

function factsOf(dimension: Dimension, uncertain: boolean, within: Within | undefined): FieldFacts {
  return { dimension, uncertain, range: within?.words ?? null };
}

/** Longest text that any field takes. */
const longestText = 200;

/**
 * A field that people write as text and that is read by a function.
 *
 * @param read gives the value or says what is wrong
 * @param description for editors
 * @param example for editors and messages
 * @param facts for the description of the file
 */
export function written<T>(
  read: (text: string) => Read<T>,
  description: string,
  example: string,
  facts: FieldFacts,
) {
  return z
    .string({
      error: ({ input }) => {
        if (input === undefined) return `is missing; write it here, such as ${example}`;
        const refused = typeof input === 'number' ? read(String(input)) : null;
        return refused?.ok === false ? refused.message : `Write a number and a unit, such as ${example}.`;
      },
    })
    .meta({ description, examples: [example] })
    .register(fieldFacts, facts)
    .transform((text, context) => {
      const result = text.length > longestText ? tooLong : read(text);
      if (result.ok) return result.value;
      context.addIssue({ code: 'custom', message: result.message });
      return z.NEVER;
    });
}

const tooLong = { ok: false, message: `Write at most ${longestText} characters.` } as const;

/** A quantity in SI, a temperature in °C. */
export function quantity(dimension: Dimension, description: string, example: string, within?: Within) {
  const facts = factsOf(dimension, false, within);
  return written((text) => readQuantity(text, dimension, within), description, example, facts);
}

/** A quantity that may carry its standard uncertainty behind `+-`. */
export function uncertain(dimension: Dimension, description: string, example: string, within?: Within) {
  const facts = factsOf(dimension, true, within);
  return written((text) => readUncertain(text, dimension, within), description, example, facts);
}

/** A part of something, `45 %` or `0.45`, without an uncertainty. */
export function ratio(description: string, example: string, within: Within) {
  const facts = factsOf('ratio', false, within);
  return numberOrText((text) => readQuantity(text, 'ratio', within), description, example, facts);
}

/** The same with its standard uncertainty behind `+-`. */
export function uncertainRatio(description: string, example: string, within: Within) {
  const facts = factsOf('ratio', true, within);
  return numberOrText((text) => readUncertain(text, 'ratio', within), description, example, facts);
}

function numberOrText<T>(
  read: (text: string) => Read<T>,
  description: string,
  example: string,
  facts: FieldFacts,
) {
  return z
    .union([z.number(), z.string()], {
      error: ({ input }) => {
        return input === undefined
          ? `is missing; write it here, such as ${example}`
          : `Write a number, such as ${example}.`;
      },
    })
    .meta({ description, examples: [example] })
    .register(fieldFacts, facts)
    .transform((text, context) => {
      const shown = String(text);
      const result = shown.length > longestText ? tooLong : read(shown);
      if (result.ok) return result.value;
      context.addIssue({ code: 'custom', message: result.message });
      return z.NEVER;
    });
}

/** Free text of at most 200 characters. */
export function words(description: string) {
  return z
    .string({ error: 'Write some text; in quotes where it looks like a number.' })
    .max(longestText, { error: `Write at most ${longestText} characters.` })
    .refine((text) => !unseen.test(text), { error: 'Leave out characters that cannot be seen.' })
    .describe(description);
}

/** Control characters but for tabs and ends of line, halves of pairs, and what turns the direction of writing. */
const unseen = /[^\P{Cc}\t\n]|[\p{Cs}\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/u;

/** A whole number. */
export function whole(description: string, low: number, high: number) {
  const error = `Write a whole number from ${low} to ${high}.`;
  return z.int({ error }).min(low, { error }).max(high, { error }).describe(description);
}
