import { type Condition, type Experiment, entryOf, isPlainName } from '../experiment/index.ts';
import type { ReadSheet, SheetFault, SheetRow } from './types.ts';

/** A recording that rows may be about. */
export interface KnownRecording {
  /** From the experiment folder, with / between its parts. */
  readonly path: string;
  readonly place: {
    readonly section: string | null;
    readonly group: string | null;
    readonly body: string | null;
    readonly flow: string | null;
    readonly repeat: number | null;
  };
  /** As its file says; null where it does not. */
  readonly startedAt: string | null;
}

/** What is unusual about whose work a row is: rosters change, and that is no fault. */
interface RosterFlag {
  readonly code: 'unlisted-group' | 'borrowed-recording' | 'another-day';
  /** One sentence. */
  readonly message: string;
}

/** A row with what it is about. */
export interface PlacedRow {
  readonly row: SheetRow;
  readonly group: string;
  /** Path of the recording; null where the row is about a condition alone. */
  readonly recording: string | null;
  readonly condition: Condition | null;
  readonly flags: readonly RosterFlag[];
}

/** A sheet whose rows are placed, and everything in it that could not be used. */
export interface PlacedSheet {
  readonly rows: readonly PlacedRow[];
  readonly faults: readonly SheetFault[];
}

const code = /^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$/;

/**
 * Says of every row which group it is of and which recording or condition it is about. A row of which that cannot be
 * said is named among the faults and left out.
 *
 * @param ownGroup group that the file itself names, by its folder or its name; null where it names none
 * @param recordings all of the folder
 */
export function placeRows(
  sheet: ReadSheet,
  ownGroup: string | null,
  experiment: Experiment,
  recordings: readonly KnownRecording[],
): PlacedSheet {
  const faults = [...sheet.faults];
  const rows = sheet.rows.flatMap((row): PlacedRow[] => {
    const found = foundRecording(row, experiment, recordings, ownGroup);
    if (typeof found === 'string') {
      faults.push({ line: row.line, column: 'recording', message: found, action: mendPlace });
      return [];
    }
    const { recording, condition } = found;
    const group = groupOf(row.group ?? ownGroup ?? recording?.place.group ?? null, experiment);
    if (group === null) {
      faults.push({
        line: row.line,
        column: 'group',
        message:
          row.group === null
            ? 'The row does not say which group it is of.'
            : 'The group of the row is no code: letters, digits, dots, hyphens and underscores, at most 40.',
        action: 'Write the code of the group.',
      });
      return [];
    }
    const flags = flagsOf(group, recording, experiment, recordings);
    return [{ row, group, recording: recording?.path ?? null, condition, flags }];
  });
  return { rows, faults: [...faults, ...repeatedRows(rows)] };
}

const mendPlace = 'Write the path of the recording as the empty sheet has it, or body and flow.';

/** A group's code as the experiment file writes it, or as it is where the file does not list it; null for no code. */
export function groupOf(text: string | null, { groups }: Experiment): string | null {
  const asked = text?.trim() ?? '';
  // Its sheets lie in a folder that is called by it.
  if (!code.test(asked) || !isPlainName(asked)) return null;
  return Object.keys(groups).find((one) => one.toLowerCase() === asked.toLowerCase()) ?? asked;
}

interface Found {
  readonly recording: KnownRecording | null;
  readonly condition: Condition | null;
}

/** What a row is about; a sentence where nobody can tell. */
function foundRecording(
  row: SheetRow,
  experiment: Experiment,
  recordings: readonly KnownRecording[],
  ownGroup: string | null,
): Found | string {
  if (row.recording !== null) {
    const asked = row.recording.replaceAll('\\', '/').replace(/^\.\//, '');
    const exact = recordings.filter(({ path }) => path.toLowerCase() === asked.toLowerCase());
    const ending = recordings.filter(({ path }) => endsWith(path, asked));
    const [only, another] = exact.length > 0 ? exact : preferring(ending, row.group ?? ownGroup);
    if (only === undefined) return `There is no recording "${asked.slice(0, 120)}" in this experiment.`;
    if (another !== undefined) return `Several recordings are called "${asked.slice(0, 120)}".`;
    return { recording: only, condition: conditionOf(only) };
  }
  const condition = statedCondition(row, experiment);
  if (typeof condition === 'string') return condition;
  const group = row.group ?? ownGroup;
  const own = recordings.filter(({ place }) => {
    return (
      place.body === condition.body &&
      place.flow === condition.flow &&
      place.group?.toLowerCase() === group?.toLowerCase() &&
      (row.repeat === null || place.repeat === row.repeat)
    );
  });
  return { recording: group !== null && own.length === 1 ? (own[0] ?? null) : null, condition };
}

/** Whether a path ends in what was written, whole parts of it, with or without the ending of the file. */
function endsWith(path: string, asked: string): boolean {
  const [long, short] = [path.toLowerCase(), asked.toLowerCase()];
  const bare = long.replace(/\.[a-z0-9]{1,5}(?:\.gz)?$/, '');
  return [long, bare].some((one) => one === short || one.endsWith(`/${short}`));
}

/** Of several with one name, those of the group. */
function preferring(found: readonly KnownRecording[], group: string | null): readonly KnownRecording[] {
  if (found.length < 2 || group === null) return found;
  const own = found.filter(({ place }) => place.group?.toLowerCase() === group.toLowerCase());
  return own.length > 0 ? own : found;
}

function conditionOf({ place: { body, flow } }: KnownRecording): Condition | null {
  return body === null || flow === null ? null : { body, flow };
}

function statedCondition({ body, flow }: SheetRow, { bodies, flows }: Experiment): Condition | string {
  if (body === null || flow === null) return 'The row names neither a recording nor a body and a flow.';
  if (entryOf(bodies, body) === undefined)
    return `There is no body "${body.slice(0, 60)}" in this experiment.`;
  if (entryOf(flows, flow) === undefined)
    return `There is no flow "${flow.slice(0, 60)}" in this experiment.`;
  return { body, flow };
}

function flagsOf(
  group: string,
  recording: KnownRecording | null,
  { groups }: Experiment,
  recordings: readonly KnownRecording[],
): RosterFlag[] {
  const flags: RosterFlag[] = [];
  if (Object.keys(groups).length > 0 && entryOf(groups, group) === undefined) {
    flags.push({
      code: 'unlisted-group',
      message: `The experiment file lists no group ${group}: a guest, or another way to write a code.`,
    });
  }
  const owner = recording?.place.group ?? null;
  if (owner !== null && owner !== group) {
    flags.push({
      code: 'borrowed-recording',
      message: `The recording is one of group ${owner}: borrowed data.`,
    });
  }
  const day = dayOf(recording);
  const usual = usualDay(recording?.place.section ?? null, recordings);
  if (day !== null && usual !== null && day !== usual) {
    flags.push({
      code: 'another-day',
      message: `Recorded on ${day}, when most of the section recorded on ${usual}: a make-up session.`,
    });
  }
  return flags;
}

function dayOf(recording: KnownRecording | null): string | null {
  return /^\d{4}-\d{2}-\d{2}/.exec(recording?.startedAt ?? '')?.[0] ?? null;
}

/** The day on which more than half of a section's recordings were made; null where there is none. */
function usualDay(section: string | null, recordings: readonly KnownRecording[]): string | null {
  if (section === null) return null;
  const days = recordings.filter(({ place }) => place.section === section).flatMap((one) => dayOf(one) ?? []);
  const counts = new Map<string, number>();
  for (const day of days) counts.set(day, (counts.get(day) ?? 0) + 1);
  const most = [...counts].find(([, count]) => count > days.length / 2);
  return most?.[0] ?? null;
}

/** Rows of one group about one recording: the last one counts, the others are named. */
function repeatedRows(rows: readonly PlacedRow[]): SheetFault[] {
  const seen = new Map<string, number>();
  return rows.flatMap(({ row, group, recording }) => {
    if (recording === null) return [];
    const key = JSON.stringify([group, recording]);
    const before = seen.get(key);
    seen.set(key, row.line);
    if (before === undefined) return [];
    return [
      {
        line: row.line,
        column: 'recording',
        message: `Line ${before} is about the same recording of the same group.`,
        action: 'Both are assessed: take one of them out.',
      },
    ];
  });
}
