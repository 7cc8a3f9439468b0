import { StoreError } from './experiment-save.ts';
import { plainFile, utf8Text } from './plain-file.ts';
import { endOf, type TrailEnd, trailDays, trailPath } from './trail-file.ts';
import { bareLine, chainOf, firstChain, readLine, type TrailLine, trailHeader } from './trail-line.ts';

/** Larger files are of no day, bytes: a hundred thousand lines. */
const largest = 64 << 20;

/** What a day's file holds. */
export interface TrailDay {
  readonly day: string;
  /** Those that can be read, the first first. */
  readonly lines: readonly TrailLine[];
  /** What was found amiss, a sentence each, with the number of the line in the file. */
  readonly faults: readonly string[];
  /** Whether a line without an end stands behind the last one: a program was killed while it wrote. */
  readonly torn: boolean;
}

/**
 * Reads the trail of a folder, day by day, and holds every line against the one before.
 *
 * @throws Error of the file system where the folder `trail` cannot be listed
 */
export async function* readTrail(folder: string): AsyncGenerator<TrailDay> {
  let end: TrailEnd | null = { number: 0, chain: firstChain };
  for (const day of await trailDays(folder)) {
    const file = await textOf(folder, day);
    if (!file.ok) {
      yield { day, lines: [], faults: [file.fault], torn: false };
      end = null;
      continue;
    }
    const read = checked(day, file.text, end);
    end = read.end;
    yield read.day;
  }
}

/**
 * The lines of one day, the first first; none where there is no such day.
 *
 * @throws StoreError where its file cannot be read
 */
export async function readTrailDay(folder: string, day: string): Promise<readonly TrailLine[]> {
  if (!(await trailDays(folder)).includes(day)) return [];
  const file = await textOf(folder, day);
  if (!file.ok) throw new StoreError(`${file.fault}.`);
  return checked(day, file.text, null).day.lines;
}

type DayText = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly fault: string };

async function textOf(folder: string, day: string): Promise<DayText> {
  const bytes = await plainFile(trailPath(folder, day), largest);
  const name = `trail/${day}.tsv`;
  if (typeof bytes === 'string') return { ok: false, fault: `${name} ${bytes}` };
  const text = utf8Text(bytes);
  return text === null ? { ok: false, fault: `${name} is not UTF-8 text` } : { ok: true, text };
}

/** @param before where the trail ended in the files before; null where that is not known */
function checked(day: string, text: string, before: TrailEnd | null) {
  const written = text.split('\n');
  const torn = written.pop() !== '';
  const lines: TrailLine[] = [];
  const faults: string[] = [];
  const name = `trail/${day}.tsv`;
  if ((written[0] ?? '') !== trailHeader && written.length > 0) {
    faults.push(`${name} does not begin with the names of its columns`);
  }
  let end = before;
  for (const [i, line] of written.entries()) {
    if (line === trailHeader && i === 0) continue;
    const where = `${name}, line ${i + 1}`;
    const read = readLine(line);
    if (read === null) faults.push(`${where} is no line of the trail`);
    else {
      lines.push(read);
      if (read.chain !== chainOf(end?.chain ?? '', bareLine(line)) && end !== null) {
        faults.push(`${where} does not follow from the line before: ${gap(end, read)}`);
      } else if (end !== null && read.number !== end.number + 1) {
        faults.push(`${where} has the number ${read.number} after ${end.number}`);
      }
    }
    end = endOf(line);
  }
  return { day: { day, lines, faults, torn }, end };
}

function gap(end: TrailEnd, { number }: TrailLine): string {
  const missing = number - end.number - 1;
  if (missing > 0) return `${missing === 1 ? 'a line was' : `${missing} lines were`} taken out`;
  return missing < 0 ? 'lines were put in another order or repeated' : 'one of the two was changed';
}
