import { createHash } from 'node:crypto';

/** What a recording is filed under; null for what is not known. */
export interface PartitionValues {
  readonly term: string;
  readonly section: string | null;
  readonly group: string | null;
}

/** What engines that read such folders take for no value. */
const noValue = '__HIVE_DEFAULT_PARTITION__';
/** Folder of the files with samples, one table. */
const samplesFolder = 'samples';
const textEnding = /\.(txt|csv|tsv|dat|asc|log|prn)(\.gz)?$/i;
/** Longest name of a file without its ending, bytes: disks allow 255, and a temporary name is longer. */
const longestName = 150;

/**
 * Where the file of a recording goes: folders that say term, section and group as `name=value`, which engines take for
 * columns.
 *
 * @param recording path in the experiment folder
 * @param taken whether another recording has that place
 * @returns path from the archive's folder, with / between its parts
 */
export function archivePlace(
  recording: string,
  { term, section, group }: PartitionValues,
  taken: (path: string) => boolean,
): string {
  const folder = [
    samplesFolder,
    `term=${escaped(term)}`,
    `section=${escaped(section)}`,
    `group=${escaped(group)}`,
  ].join('/');
  const stem = (recording.split('/').at(-1) ?? '').replace(textEnding, '');
  // Engines pass by files whose names begin with these.
  const visible = escaped(stem).replace(/^[._]/, (sign) => percent(sign));
  const name = cut(visible);
  const path = `${folder}/${name}.parquet`;
  if (name === visible && !taken(path)) return path;
  const mark = createHash('sha256').update(recording).digest('hex').slice(0, 12);
  return `${folder}/${name}-${mark}.parquet`;
}

/** Characters that have a meaning in such paths, as `%` and two hexadecimal digits (the rule of Apache Hive). */
function escaped(value: string | null): string {
  if (value === null || value === '') return noValue;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what must not go into a name
  return value.replace(/[\u0000-\u001f\u007f"#%'*/:=?\\{[\]^<>|]/g, percent);
}

function percent(sign: string): string {
  return `%${sign.charCodeAt(0).toString(16).toUpperCase().padStart(2, '0')}`;
}

function cut(name: string): string {
  let short = name;
  while (Buffer.byteLength(short) > longestName) short = short.slice(0, -1);
  return short.replace(/[\ud800-\udbff]$|%[0-9A-F]?$/, '');
}
