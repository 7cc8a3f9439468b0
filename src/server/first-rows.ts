import { open } from 'node:fs/promises';
import { constants, gunzipSync } from 'node:zlib';
import { archivedOpening } from '../archive/index.ts';
import { type Dialect, findEncoding, splitRow } from '../recording/index.ts';

/** First lines of a file with their cells. */
export interface FirstRows {
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
  readonly delimiter: Dialect['delimiter'];
}

const most = { lines: 20, bytes: 1 << 16, cells: 40, letters: 120 };
const delimiters: readonly Dialect['delimiter'][] = ['\t', ';', '|', ',', 'space'];

/**
 * The first 20 lines of a text file, cut into cells, for a person to see what was understood.
 *
 * @param path of the file, plain or gzip, or of its file in the archive
 * @param known what is known of it; the rest is found by what parts most lines alike
 */
export async function firstRows(
  path: string,
  known: {
    readonly encoding?: Dialect['encoding'] | undefined;
    readonly delimiter?: Dialect['delimiter'] | undefined;
  },
): Promise<FirstRows> {
  const head = (await archivedOpening(path)) ?? (await headOf(path));
  const { encoding, markBytes } = findEncoding(head, known.encoding);
  const decoder = new TextDecoder(encoding === 'latin-1' ? 'windows-1252' : encoding);
  const text = decoder.decode(head.subarray(markBytes)).replaceAll('\0', '');
  const lines = text.split(/\r\n|\n|\r/).slice(0, most.lines);
  const delimiter = known.delimiter ?? likelyDelimiter(lines);
  const rows = lines.map((line, i) => ({
    line: i + 1,
    cells: splitRow(line.slice(0, 4000), delimiter)
      .slice(0, most.cells)
      .map((cell) => cell.slice(0, most.letters)),
  }));
  while (rows.at(-1)?.cells.every((cell) => cell === '')) rows.pop();
  return { rows, delimiter };
}

async function headOf(path: string): Promise<Uint8Array> {
  const handle = await open(path, 'r');
  try {
    const buffer = new Uint8Array(most.bytes);
    const { bytesRead } = await handle.read(buffer, 0, buffer.length, 0);
    const head = buffer.subarray(0, bytesRead);
    return head[0] === 0x1f && head[1] === 0x8b ? unpacked(head) : head;
  } finally {
    await handle.close();
  }
}

/** The beginning of a gzip file, cut off where the piece of it ends. */
function unpacked(head: Uint8Array): Uint8Array {
  try {
    const whole = gunzipSync(head, {
      finishFlush: constants.Z_SYNC_FLUSH,
      maxOutputLength: 1100 * most.bytes,
    });
    return whole.subarray(0, most.bytes);
  } catch {
    return new Uint8Array();
  }
}

function likelyDelimiter(lines: readonly string[]): Dialect['delimiter'] {
  const rows = lines.filter((line) => line.trim() !== '');
  const score = (delimiter: Dialect['delimiter']) => {
    const counts = rows.map((line) => splitRow(line.slice(0, 4000), delimiter).length).filter((n) => n > 1);
    const usual = counts.sort((a, b) => a - b)[counts.length >> 1];
    return counts.filter((n) => n === usual).length;
  };
  return [...delimiters].sort((a, b) => score(b) - score(a))[0] ?? ',';
}
