import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { pictureType } from './picture-type.ts';
import { plainFile, utf8Text } from './plain-file.ts';

/** The instructor's own words and pictures for a briefing, as they lie in `briefing/`. */
export interface BriefingFolder {
  /** By name without its ending `.md`. */
  readonly texts: ReadonlyMap<string, string>;
  /** By name with its ending. */
  readonly pictures: ReadonlyMap<string, BriefingPicture>;
  /** One sentence each: which file was left out, why, and what to do. */
  readonly faults: readonly string[];
}

interface BriefingPicture {
  readonly bytes: Uint8Array;
  readonly type: 'image/png' | 'image/jpeg';
}

const briefingFolderName = 'briefing';

const mostFiles = 100;
/** bytes */
const largestText = 1 << 16;
const largestPicture = 8 << 20;
const largestTogether = 32 << 20;
const plainName = /^[A-Za-z0-9][A-Za-z0-9 ._-]{0,99}$/;

/**
 * Reads `briefing/` in an experiment folder. Only plain files that lie in it are read, never a link and nothing beyond
 * it, and nothing is ever written there.
 *
 * @param folder of the experiment
 */
export async function readBriefingFolder(folder: string): Promise<BriefingFolder> {
  const texts = new Map<string, string>();
  const pictures = new Map<string, BriefingPicture>();
  const faults: string[] = [];
  const place = join(folder, briefingFolderName);
  const found = await lstat(place).catch(() => null);
  if (found === null) return { texts, pictures, faults };
  if (!found.isDirectory()) {
    return { texts, pictures, faults: ['briefing is not a folder: make it one, and put the texts into it.'] };
  }
  const names = (await readdir(place)).toSorted();
  if (names.length > mostFiles) faults.push(`briefing holds more than ${mostFiles} files: take some out.`);
  let together = 0;
  for (const name of names.slice(0, mostFiles)) {
    const kind = kindOf(name);
    if (kind === null) {
      if (!name.startsWith('.')) faults.push(unusable(name, 'is neither .md nor .png, .jpg or .jpeg'));
      continue;
    }
    const most = Math.min(kind === 'text' ? largestText : largestPicture, largestTogether - together);
    const bytes = await plainFile(join(place, name), most);
    if (typeof bytes === 'string') {
      faults.push(unusable(name, bytes));
      continue;
    }
    together += bytes.length;
    if (kind === 'text') {
      const text = utf8Text(bytes);
      if (text === null) faults.push(unusable(name, 'is not UTF-8 text: save it as UTF-8'));
      else texts.set(name.slice(0, -3), text);
    } else {
      const found = pictureType(bytes);
      if (found.ok) pictures.set(name, { bytes, type: found.type });
      else faults.push(unusable(name, found.why));
    }
  }
  return { texts, pictures, faults };
}

function kindOf(name: string): 'text' | 'picture' | null {
  if (!plainName.test(name)) return null;
  if (name.endsWith('.md')) return 'text';
  return /\.(?:png|jpe?g)$/i.test(name) ? 'picture' : null;
}

function unusable(name: string, why: string): string {
  return `briefing/${name.slice(0, 100)} was left out: it ${why}.`;
}
