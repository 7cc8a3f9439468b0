import { conditionName } from './conditions.ts';
import type { SessionPlan, Stretch } from './plan-types.ts';

/** What the events of a calendar file are told apart by and dated with. */
export interface CalendarLabel {
  /** Name of the course. */
  readonly course: string;
  /** What else sets this session apart from others that begin at the same time, such as where its file lies. */
  readonly place: string;
  /** When the file is written, ms since 1970-01-01 UTC. */
  readonly written: number;
}

/** When a session begins: a date and a time of day, of no time zone. */
export interface CalendarStart {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
}

/** Longest line of a calendar file, bytes (RFC 5545, 3.1). */
const longestLine = 75;

const words: Readonly<Record<Stretch['kind'], string>> = {
  'ice-bath': 'Make the ice bath',
  'set-up': 'Set up',
  zeroing: 'Zero the amplifier',
  'change-over': 'Change body or flow',
  baseline: 'Baseline',
  heating: 'Heating',
  cooling: 'Cooling',
  settling: 'Back to ambient',
  spare: 'Spare',
  reserve: 'Reserve',
};

/**
 * The time line as a calendar file (RFC 5545): an event for each condition and for what stands between them, in floating
 * time, which every calendar shows as the clock on the wall.
 *
 * @param start of the session
 */
export function calendarText(plan: SessionPlan, start: CalendarStart, label: CalendarLabel): string {
  const stamp = `${calendarTime(label.written)}Z`;
  const session = fingerprint([label.course, label.place, dateTime(start, 0)].join('\n'));
  const events = eventsOf(plan.timeLine.stretches).flatMap(({ summary, from, to }, i) => [
    'BEGIN:VEVENT',
    `UID:${session}-${i + 1}@emberline.invalid`,
    `DTSTAMP:${stamp}`,
    `DTSTART:${dateTime(start, from)}`,
    `DTEND:${dateTime(start, to)}`,
    `SUMMARY:${escaped(summary)}`,
    'END:VEVENT',
  ]);
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Emberline//session plan//EN',
    `X-WR-CALNAME:${escaped(label.course)}`,
    ...events,
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}

interface Event {
  readonly summary: string;
  readonly from: number;
  readonly to: number;
}

/** The trials of a condition are one event. */
function eventsOf(stretches: readonly Stretch[]): Event[] {
  const events: Event[] = [];
  const trials = new Map<string, number>();
  for (const { kind, from, to, condition } of stretches) {
    if (condition === null) {
      events.push({ summary: words[kind], from, to });
      continue;
    }
    const name = conditionName(condition);
    const place = trials.get(name);
    const before = place === undefined ? undefined : events[place];
    if (place === undefined || before === undefined) {
      trials.set(name, events.length);
      events.push({ summary: name, from, to });
    } else events[place] = { ...before, to };
  }
  return events;
}

/** `20260302T140000`, some seconds after the start; the calendar's own arithmetic, without a time zone. */
function dateTime({ year, month, day, hour, minute }: CalendarStart, seconds: number): string {
  return calendarTime(Date.UTC(year, month - 1, day, hour, minute, Math.round(seconds)));
}

/** ms since 1970 as `20260302T140000`. */
function calendarTime(milliseconds: number): string {
  return new Date(milliseconds).toISOString().slice(0, 19).replaceAll(/[-:]/g, '');
}

/** 64 bits of a text as hexadecimal digits (FNV-1a; Fowler, Noll and Vo: offset basis and prime of 64 bits). */
function fingerprint(text: string): string {
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(text)) {
    hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
  }
  return hash.toString(16).padStart(16, '0');
}

/** Text of a property (RFC 5545, 3.3.11); control characters have no place in it. */
function escaped(text: string): string {
  return text
    .replaceAll(/[\\;,]/g, (mark) => `\\${mark}`)
    .replaceAll(/\r?\n/g, '\\n')
    .replaceAll(/\p{Cc}/gu, ' ');
}

/** Long lines go on behind a line end and a space, never inside a character (RFC 5545, 3.1). */
function folded(line: string): string {
  const encoder = new TextEncoder();
  let text = '';
  let length = 0;
  for (const character of line) {
    const bytes = encoder.encode(character).length;
    if (length + bytes > longestLine) {
      text += '\r\n ';
      length = 1;
    }
    text += character;
    length += bytes;
  }
  return text;
}
