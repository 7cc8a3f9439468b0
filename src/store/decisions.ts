import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { DecisionError } from './decision-error.ts';
import {
  decisionFile,
  type KeptReading,
  type Marks,
  mostDecisions,
  type StoredDecision,
  storedDecision,
} from './decision-schema.ts';
import { reason } from './experiment-file.ts';
import { withFileLock } from './file-lock.ts';
import { insideFolder } from './inside-folder.ts';
import { behindLink } from './json-file.ts';
import { leadsOut, noLinkOut } from './leads-out.ts';

/** What a person decides about a recording. */
export type NewDecision =
  | { readonly kind: 'marks'; readonly marks: Marks }
  | { readonly kind: 'reject' }
  | { readonly kind: 'reading'; readonly read: KeptReading }
  | { readonly kind: 'undo'; readonly undoes: string };

/** Who decides, when, why, and about which bytes. */
export interface DecisionCircumstances {
  readonly who: string;
  readonly why: string;
  /** ISO 8601 with a zone, from the caller's clock. */
  readonly at: string;
  /** SHA-256 of the raw file, in hexadecimal. */
  readonly sha256: string;
}

/** Larger files are not even read, bytes: the most decisions, each with the longest reason. */
const largest = 4 << 20;

const about =
  'What people decided about this recording: marks that were moved, trials that were rejected, how the file is to be read, and what was taken back. The raw file is never changed. Each decision counts for the bytes with its sha256 only; of each kind the last one counts.';

/** Path of the file that holds the decisions about a recording. */
export function decisionsPath(folder: string, recording: string): string {
  return join(folder, 'decisions', `${insideFolder(recording)}.json`);
}

/**
 * The decisions about a recording, the first first; none where nobody decided anything.
 *
 * @param folder of the experiment
 * @param recording path from there, with / between its parts
 * @throws DecisionError where the file cannot be read
 */
export async function readDecisions(folder: string, recording: string): Promise<readonly StoredDecision[]> {
  const path = decisionsPath(folder, recording);
  const text = await readText(folder, path);
  return text === null ? [] : decisionsIn(text, path);
}

/**
 * Adds a decision to those about a recording. Writers at the same time wait for each other, and none loses anything.
 *
 * @returns all decisions, this one at the end
 * @throws DecisionError where the file cannot be read or written, or there is nothing to be taken back
 */
export async function appendDecision(
  folder: string,
  recording: string,
  decision: NewDecision,
  circumstances: DecisionCircumstances,
): Promise<readonly StoredDecision[]> {
  const path = decisionsPath(folder, recording);
  try {
    await refuseLink(folder, path);
    return await withFileLock(path, async () => {
      const before = await readDecisions(folder, recording);
      const added = checked(decision, circumstances, before);
      const decisions = [...before, added];
      await writeAtomically(path, `${JSON.stringify({ about, recording, decisions }, null, 2)}\n`);
      return decisions;
    });
  } catch (error) {
    if (error instanceof DecisionError) throw error;
    throw new DecisionError('file', `${path}: cannot be written (${reason(error)})`, 'check the folder');
  }
}

function checked(
  decision: NewDecision,
  circumstances: DecisionCircumstances,
  before: readonly StoredDecision[],
): StoredDecision {
  if (before.length >= mostDecisions) {
    throw new DecisionError(
      'refused',
      `there are ${mostDecisions} decisions about this recording already`,
      'move the file below decisions/ away to start anew',
    );
  }
  const { who, why, at, sha256 } = circumstances;
  const id = `d${before.length + 1}`;
  const read = storedDecision.safeParse({ id, at, who: who.trim(), why: why.trim(), sha256, ...decision });
  if (!read.success) {
    throw new DecisionError(
      'refused',
      `the decision is not complete: ${faultIn(read.error)}`,
      'give who and why; marks as stretches in seconds, and how to read the file by the names of its options',
    );
  }
  if (decision.kind === 'undo') refuseUndo(decision.undoes, before);
  return read.data;
}

function refuseUndo(id: string, before: readonly StoredDecision[]): void {
  if (!before.some((one) => one.id === id)) {
    throw new DecisionError('refused', `there is no decision ${id} about this recording`, 'name one of them');
  }
  if (undoneIds(before).has(id)) {
    throw new DecisionError('refused', `decision ${id} is taken back already`, 'name another one');
  }
}

/** Decisions that were taken back, and not by an undo that was itself taken back. */
export function undoneIds(decisions: readonly StoredDecision[]): ReadonlySet<string> {
  const undone = new Set<string>();
  for (const decision of decisions.toReversed()) {
    if (decision.kind === 'undo' && !undone.has(decision.id)) undone.add(decision.undoes);
  }
  return undone;
}

async function refuseLink(folder: string, path: string): Promise<void> {
  if (!(await leadsOut(folder, path))) return;
  throw new DecisionError('file', behindLink(path), noLinkOut);
}

async function readText(folder: string, path: string): Promise<string | null> {
  const found = await stat(path).catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw new DecisionError('file', `${path}: cannot be read (${reason(error)})`, 'check the folder');
  });
  if (found === null) return null;
  if (!found.isFile()) throw new DecisionError('file', `${path}: is not a file`, 'move it away');
  await refuseLink(folder, path);
  if (found.size > largest) {
    throw new DecisionError(
      'file',
      `${path}: is larger than 4 MiB, as no file of decisions is`,
      'move it away; what is decided then starts anew',
    );
  }
  const bytes = await readFile(path).catch((error: unknown) => {
    throw new DecisionError('file', `${path}: cannot be read (${reason(error)})`, 'check its permissions');
  });
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new DecisionError('file', `${path}: is not UTF-8 text`, 'save it as UTF-8 in your editor');
  }
}

function decisionsIn(text: string, path: string): readonly StoredDecision[] {
  const mend = 'mend that place in an editor, or move the file away; what is decided then starts anew';
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new DecisionError('file', `${path}: is not JSON (${why.slice(0, 200)})`, mend);
  }
  const read = decisionFile.safeParse(parsed);
  if (!read.success) throw new DecisionError('file', `${path}: ${faultIn(read.error)}`, mend);
  const { decisions } = read.data;
  if (new Set(decisions.map(({ id }) => id)).size !== decisions.length) {
    throw new DecisionError('file', `${path}: two decisions have the same id`, mend);
  }
  return decisions;
}

/** The first thing that does not fit, with its place. */
function faultIn({ issues }: z.ZodError): string {
  const [issue] = issues;
  if (issue === undefined) return 'it does not fit';
  const place = issue.path.map((key) => (typeof key === 'number' ? `number ${key + 1}` : String(key)));
  return `${place.length === 0 ? '' : `${place.join(' › ')}: `}${issue.message}`.slice(0, 300);
}
