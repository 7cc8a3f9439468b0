import { ReferenceRunError, referencePlace, referenceResult } from '../analysis/index.ts';
import { admitCheck, admitReference, countingRuns, type ReferenceBook, type RigBook } from '../rig/index.ts';
import {
  appendReferenceRun,
  appendRigCheck,
  checkKept,
  entryWithdrawn,
  type ReadExperiment,
  readReferenceRuns,
  readRigChecks,
  referenceKept,
  termOf,
  withdrawReferenceRun,
  withdrawRigCheck,
} from '../store/index.ts';
import { inFolder } from './in-folder.ts';
import { tellTrail } from './own-trail.ts';
import type { RigOptions } from './rig-command.ts';
import { OptionError } from './wishes.ts';

/** What is kept about the rigs of a folder, after what was asked for is done. */
export interface RigBooks {
  readonly checks: RigBook;
  readonly references: ReferenceBook;
  /** Name of what was added; null where nothing was. */
  readonly kept: string | null;
}

/** Options that belong to adding or taking back say nothing by themselves: what was meant would be lost in silence. */
export function refuseStray(options: RigOptions): void {
  const { add, reference, withdraw, value, bench, of, body, flow, term, who, note, at, why } = options;
  if (options.form !== undefined && !options.correlation) {
    throw new OptionError('--form belongs to --correlation: give it as well');
  }
  if (
    options.correlation &&
    (options.history || [add, reference, withdraw].some((one) => one !== undefined))
  ) {
    throw new OptionError('--correlation: ask for it alone');
  }
  if ([add, reference, withdraw].filter((one) => one !== undefined).length > 1) {
    throw new OptionError('--add, --reference and --withdraw: do one after the other');
  }
  const stray = (
    needed: string | undefined,
    wants: string,
    given: readonly (readonly [string, unknown])[],
  ) => {
    const first = given.find(([, one]) => one !== undefined)?.[0];
    if (needed === undefined && first !== undefined) throw new OptionError(`${first} ${wants} as well`);
  };
  stray(add, 'belongs to a new check: give --add <kind>', [
    ['--value', value],
    ['--of', of],
  ]);
  stray(reference, 'belongs to a reference run: give --reference <recording>', [
    ['--body', body],
    ['--flow', flow],
    ['--term', term],
  ]);
  stray(add ?? reference, 'belongs to a new check or reference run: give --add <kind> or --reference', [
    ['--bench', bench],
    ['--note', note],
    ['--at', at],
  ]);
  stray(withdraw, 'says why something is taken back: give --withdraw <id>', [['--why', why]]);
  if (who !== undefined && add === undefined && reference === undefined && withdraw === undefined) {
    throw new OptionError('--who belongs to --add, --reference or --withdraw: give one of them');
  }
}

/**
 * Does what the options ask for.
 *
 * @param now ms since 1970 (UTC)
 * @throws OptionError where something cannot be kept
 */
export async function keepInBooks(
  folder: string,
  file: ReadExperiment,
  options: RigOptions,
  now: number,
): Promise<RigBooks> {
  const { add, reference, withdraw } = options;
  if (withdraw !== undefined) return takenBack(folder, withdraw, options, now);
  if (add !== undefined) {
    const checks = await addedCheck(folder, file, add, options, now);
    const references = await readReferenceRuns(folder);
    return { checks, references, kept: checks.checks.at(-1)?.id ?? null };
  }
  const checks = await readRigChecks(folder);
  if (reference === undefined) return { checks, references: await readReferenceRuns(folder), kept: null };
  const references = await addedReference(folder, file, reference, options, now);
  return { checks, references, kept: references.runs.at(-1)?.id ?? null };
}

async function takenBack(folder: string, id: string, options: RigOptions, now: number): Promise<RigBooks> {
  const withdrawal = {
    id,
    at: new Date(now).toISOString(),
    who: given('--who', options.who),
    why: given('--why', options.why),
  };
  // The book of reference runs names its entries r1, r2 and so on.
  if (/^r\d+$/.test(id)) {
    const references = await withdrawReferenceRun(folder, withdrawal);
    await tellTrail(folder, withdrawal.who, entryWithdrawn(withdrawal));
    return { checks: await readRigChecks(folder), references, kept: null };
  }
  const checks = await withdrawRigCheck(folder, withdrawal);
  await tellTrail(folder, withdrawal.who, entryWithdrawn(withdrawal));
  return { checks, references: await readReferenceRuns(folder), kept: null };
}

async function addedCheck(
  folder: string,
  { experiment }: ReadExperiment,
  kind: string,
  options: RigOptions,
  now: number,
): Promise<RigBook> {
  const admitted = admitCheck(
    experiment,
    {
      kind,
      value: given('--value', options.value),
      bench: options.bench ?? null,
      subject: options.of ?? null,
      who: given('--who', options.who),
      note: options.note ?? '',
      at: options.at ?? null,
    },
    now,
  );
  if (!admitted.ok) throw new OptionError(`${admitted.message} ${admitted.mend}`);
  const book = await appendRigCheck(folder, admitted.check);
  await tellTrail(folder, admitted.check.who, checkKept(book));
  return book;
}

async function addedReference(
  folder: string,
  { experiment }: ReadExperiment,
  typed: string,
  options: RigOptions,
  now: number,
): Promise<ReferenceBook> {
  const who = given('--who', options.who);
  const recording = inFolder(folder, typed);
  const place = referencePlace(experiment, recording, {
    bench: options.bench ?? null,
    body: options.body ?? null,
    flow: options.flow ?? null,
  });
  const found = await referenceResult(folder, experiment, recording, place).catch((error: unknown) => {
    if (error instanceof ReferenceRunError) throw new OptionError(`${error.message} ${error.mend}`);
    throw error;
  });
  const asked = {
    ...place,
    term: options.term ?? termOf(folder, experiment),
    who,
    note: options.note ?? '',
    at: options.at ?? null,
  };
  const known = countingRuns(await readReferenceRuns(folder));
  const admitted = admitReference(experiment, asked, found, known, now);
  if (!admitted.ok) throw new OptionError(`${admitted.message} ${admitted.mend}`);
  const book = await appendReferenceRun(folder, admitted.run);
  await tellTrail(folder, who, referenceKept(book));
  return book;
}

function given(option: string, text: string | undefined): string {
  if (text !== undefined && text.trim() !== '') return text;
  throw new OptionError(`${option} is missing; emberline rig --help shows how it is written`);
}
