import { type Experiment, fixedFolder } from '../experiment/index.ts';

/** Most characters: as UTF-8 they stay below the 255 bytes that a file system takes, with what stands around them. */
const most = 50;

/**
 * A text as part of a file's name, in letters, digits, dot, hyphen and underscore of any script: no separator of
 * folders, no blank, no control character, nothing that changes the direction of writing. Of a long one the end stays.
 *
 * @returns may be empty
 */
export function inFileName(text: string): string {
  const plain = text.normalize('NFC').replace(/[^\p{L}\p{M}\p{N}._-]+/gu, '-');
  const end = [...plain].slice(-most).join('');
  return end.replace(/\.{2,}/g, '.').replace(/^[-.]+|[-.]+$/g, '');
}

/** A recording in the name of a file: its path below the folder of recordings, without ending. */
export function recordingInFileName(experiment: Experiment, path: string): string {
  const folder = `${fixedFolder(experiment.recordings)}/`;
  const own = path.startsWith(folder) ? path.slice(folder.length) : path;
  return inFileName(own.replace(/(?:\.[A-Za-z]{1,5}){1,2}$/, ''));
}
