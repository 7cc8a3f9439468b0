import type { Decay } from '../decay/index.ts';
import { type Condition, conditionsOf, type Experiment } from '../experiment/index.ts';
import { RecordingError } from '../recording/index.ts';
import type { Severity } from '../remark/index.ts';

/** What is to be kept in mind about a recording. */
export interface RecordingNote {
  /** That of a remark of its analysis, or `condition-left-out`. */
  readonly code: string;
  readonly severity: Severity;
  /** One sentence. */
  readonly message: string;
}

/** What is said of a recording, with what to do. */
export interface SaidRecording extends RecordingNote {
  /** One sentence; null where it was not kept. */
  readonly action: string | null;
}

/** The cautions of an analysis, in a sentence each. */
export function cautionsOf({ remarks }: Decay): RecordingNote[] {
  return remarks
    .filter(({ severity }) => severity === 'caution')
    .map(({ code, severity, message }) => ({ code, severity, message: firstSentence(message) }));
}

/** Says so where the experiment file leaves the condition out. */
export function leftOutNotes(experiment: Experiment, { body, flow }: Condition): RecordingNote[] {
  return conditionsOf(experiment)
    .leftOut.filter((one) => one.body === body && one.flow === flow)
    .map(({ why }) => ({
      code: 'condition-left-out',
      severity: 'note',
      message: `It counts, although the experiment file leaves its condition out: ${why}.`,
    }));
}

/** Why a recording could not be read, without its path and without its rows. */
export function unreadWords(error: Error): string {
  const [line = ''] = error.message.split('\n');
  if (!(error instanceof RecordingError) || !line.startsWith(error.file)) return line;
  const rest = line.slice(error.file.length).replace(/^[:,] /, '');
  return rest.charAt(0).toUpperCase() + rest.slice(1);
}

function firstSentence(text: string): string {
  return /^.*?[.!?](?= [A-Z])/s.exec(text)?.[0] ?? text;
}
