import { styleText } from 'node:util';
import type { Presets, SingleBar } from 'cli-progress';

/** A stream of text; a terminal says so. */
export type TextOutput = NodeJS.WritableStream & { readonly isTTY?: boolean; readonly rows?: number };

/** Where a command writes, and what it knows of its surroundings. */
export interface Surroundings {
  readonly stdout: TextOutput;
  readonly stderr: TextOutput;
  readonly environment: NodeJS.ProcessEnv;
}

/** What a command did: 0 done, 1 done but a recording must be repeated, 2 could not be done. */
export type ExitStatus = 0 | 1 | 2;

/** Weight and colour for words. Colour only repeats what a word says, and is left out where it is not wanted. */
export interface Ink {
  strong(text: string): string;
  faint(text: string): string;
  warm(text: string): string;
}

/**
 * @param stream where the text goes: a terminal or not
 * @param environment NO_COLOR (no-color.org, an informal standard: present and not empty) and TERM=dumb turn colour off
 */
export function inkFor(stream: TextOutput, environment: NodeJS.ProcessEnv): Ink {
  return inkOf(isPlain(stream, environment));
}

/** Whether text that goes there is without weight and colour, as `inkFor` has it. */
export function isPlain(stream: TextOutput, environment: NodeJS.ProcessEnv): boolean {
  return !stream.isTTY || Boolean(environment['NO_COLOR']) || environment['TERM'] === 'dumb';
}

/** @param plain whether words are left as they are */
export function inkOf(plain: boolean): Ink {
  if (plain) return { strong: (text) => text, faint: (text) => text, warm: (text) => text };
  const style = (format: 'bold' | 'dim' | 'yellow') => (text: string) =>
    styleText(format, text, { validateStream: false });
  return { strong: style('bold'), faint: style('dim'), warm: style('yellow') };
}

/** A bar for long work; draws nothing where no terminal is there. */
export interface Progress {
  /** Sets the part that is done, in the units of the total. */
  update(done: number): void;
  stop(): void;
}

/**
 * A progress bar on the error stream, so that redirected results stay clean.
 *
 * @param total in any unit, > 0
 */
export async function startProgress(
  surroundings: Surroundings,
  total: number,
  label: string,
): Promise<Progress> {
  if (!surroundings.stderr.isTTY || surroundings.environment['TERM'] === 'dumb') {
    return { update: () => undefined, stop: () => undefined };
  }
  const bars: { SingleBar: typeof SingleBar; Presets: typeof Presets } = (await import('cli-progress'))
    .default;
  const bar = new bars.SingleBar(
    {
      format: '{label} {bar} {percentage} %',
      barCompleteChar: '━',
      barIncompleteChar: '·',
      barsize: 30,
      hideCursor: true,
      clearOnComplete: true,
      stream: surroundings.stderr,
    },
    bars.Presets.legacy,
  );
  bar.start(total, 0, { label });
  return { update: (done) => bar.update(done), stop: () => bar.stop() };
}

/** Control characters, further ends of line, and what turns the direction of writing. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not reach the terminal
const steering = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

/** Makes control characters visible, so that a name or a line from a file cannot steer the terminal. */
export function printable(text: string): string {
  return text.replace(steering, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** The same for a text of several lines. */
export function printableLines(text: string): string {
  return text.split('\n').map(printable).join('\n');
}
