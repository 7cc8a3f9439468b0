import { lstat, mkdir, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { leadsOut } from './leads-out.ts';
import { isCode } from './place-new.ts';
import { plainFile, utf8Text } from './plain-file.ts';

/** Folder of the instructor's texts. */
const feedbackFolder = 'feedback';

const mostTexts = 200;
/** bytes */
const largestText = 1 << 16;
const plainName = /^[a-z0-9][a-z0-9-]{0,79}\.md$/;

/** The texts in `feedback/`, by name without the ending `.md`, and one sentence for each file that was left out. */
export interface FeedbackFolder {
  readonly texts: ReadonlyMap<string, string>;
  readonly faults: readonly string[];
}

/**
 * Reads the instructor's own texts. Only plain files that lie in the folder are read.
 *
 * @param folder of the experiment
 */
export async function readFeedbackFolder(folder: string): Promise<FeedbackFolder> {
  const texts = new Map<string, string>();
  const faults: string[] = [];
  const place = join(folder, feedbackFolder);
  const found = await lstat(place).catch(() => null);
  if (found === null) return { texts, faults };
  if (!found.isDirectory()) {
    return { texts, faults: [`${feedbackFolder} is not a folder: make it one, and put the texts into it.`] };
  }
  const names = (await readdir(place)).filter((name) => !name.startsWith('.')).toSorted();
  if (names.length > mostTexts)
    faults.push(`${feedbackFolder} holds more than ${mostTexts} files: take some out.`);
  for (const name of names.slice(0, mostTexts)) {
    const shown = `${feedbackFolder}/${name.slice(0, 100)}`;
    if (!plainName.test(name)) {
      faults.push(
        `${shown} was left out: a text is called by small letters, digits and hyphens, and ends in .md.`,
      );
      continue;
    }
    const bytes = await plainFile(join(place, name), largestText);
    const text = typeof bytes === 'string' ? null : utf8Text(bytes);
    if (text === null) {
      faults.push(
        `${shown} was left out: it ${typeof bytes === 'string' ? bytes : 'is not UTF-8 text: save it as UTF-8'}.`,
      );
    } else {
      texts.set(name.slice(0, -3), text.replace(/^\uFEFF/, '').replaceAll('\r\n', '\n'));
    }
  }
  return { texts, faults };
}

/**
 * Puts texts into `feedback/` for the instructor to change. What is there stays as it is.
 *
 * @param texts by name without the ending
 * @returns names of the files that are new
 * @throws StoreError where the folder cannot be written to
 */
export async function startFeedbackFolder(
  folder: string,
  texts: Iterable<readonly [name: string, text: string]>,
): Promise<string[]> {
  const made: string[] = [];
  const place = join(folder, feedbackFolder);
  try {
    await mkdir(place, { recursive: true });
    if (await leadsOut(folder, place)) {
      throw new StoreError(
        `${feedbackFolder} is a link that leads out of the folder. Put the folder itself there.`,
      );
    }
    for (const [name, text] of texts) {
      const written = await writeFile(join(place, `${name}.md`), text, { flag: 'wx' }).then(
        () => true,
        (error: unknown) => {
          if (isCode(error, 'EEXIST')) return false;
          throw error;
        },
      );
      if (written) made.push(`${feedbackFolder}/${name}.md`);
    }
  } catch (error) {
    if (error instanceof StoreError) throw error;
    throw new StoreError(`${feedbackFolder} cannot be written to (${reason(error)}). Check the folder.`);
  }
  return made;
}
