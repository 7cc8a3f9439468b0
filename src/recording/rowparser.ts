import { type Checkpoint, Checkpoints } from './checkpoints.ts';
import { overloadFrom, overloadMark, parseCell, parseNumber } from './number.ts';
import { missing, overloaded, type Sink } from './parts.ts';
import type { PlainForm } from './plainrows.ts';
import { PlainRun } from './plainrun.ts';
import { lineTooLong, type Plan } from './plan.ts';
import { QuickRow } from './quickrow.ts';
import type { SharedPiece } from './shared-piece.ts';
import { commentText, rowCells } from './split.ts';
import { Spreader } from './spreader.ts';
import type { Loss } from './tally.ts';
import { isTooLong, lineDecoder, longestLine } from './text.ts';
import { rawTime } from './timecell.ts';
import { outOfOrder, restarted, Timekeeper } from './timekeeper.ts';

/** Behind a row that is not as plain as most, so many lines are read one by one. */
const patience = 64;

/**
 * Reads rows from bytes. The plainest are read many at a time, ordinary ones digit by digit without making text of
 * them; every other line goes through the careful way. All three give the same numbers.
 */
export class RowParser {
  readonly #plan: Plan;
  readonly #sink: Sink;
  readonly #decode: (bytes: Uint8Array) => string;
  #keeper: Timekeeper;
  #spreader: Spreader | null;
  /** Columns of the values: the channel first, then its companions. */
  readonly #valueColumns: readonly number[];
  readonly #values: Float64Array;
  /** Columns of the time, counted from 0; -1 where there is none. */
  readonly #timeColumn: number;
  readonly #dateColumn: number;
  readonly #plain: PlainRun | null;
  /** Line behind which plain rows are looked for. */
  #plainFrom: number;
  readonly #quick: QuickRow | null;
  readonly #headerLines: number;
  #carry = new Uint8Array(256);
  #carryLength = 0;
  /** Bytes taken, those in the carry among them. */
  #offset = 0;
  #line = 0;
  #row = 0;
  #part = 0;
  #checkpoints = new Checkpoints();

  constructor(plan: Plan, sink: Sink) {
    this.#plan = plan;
    this.#sink = sink;
    this.#decode = lineDecoder(plan.encoding.encoding === 'latin-1' ? 'latin-1' : 'utf-8');
    this.#valueColumns = [plan.choice.channel, ...plan.choice.companions].map((c) => c.column - 1);
    this.#values = new Float64Array(this.#valueColumns.length);
    const { cells } = plan.time;
    this.#keeper = new Timekeeper(plan.time);
    this.#spreader = plan.time.spread ? new Spreader(plan.time, this.#valueColumns.length) : null;
    this.#dateColumn = cells.kind === 'clock' && cells.time !== null ? (cells.date ?? -1) : -1;
    this.#timeColumn =
      cells.kind === 'number' ? cells.column : cells.kind === 'clock' ? (cells.time ?? cells.date ?? -1) : -1;
    this.#headerLines = plan.dialect.firstDataLine - 1;
    this.#quick = QuickRow.of(plan, this.#valueColumns);
    const plainest = this.#quick !== null && this.#spreader === null && cells.kind !== 'clock';
    this.#plain = plainest ? new PlainRun(plan, this.#valueColumns, this.#timeColumn) : null;
    this.#plainFrom = this.#headerLines;
  }

  /** A copy that writes into another sink. */
  clone(sink: Sink): RowParser {
    const copy = new RowParser(this.#plan, sink);
    copy.#keeper = this.#keeper.clone();
    copy.#spreader = this.#spreader?.clone(this.#plan.time) ?? null;
    copy.#carry = this.#carry.slice();
    copy.#carryLength = this.#carryLength;
    copy.#offset = this.#offset;
    copy.#line = this.#line;
    copy.#row = this.#row;
    copy.#part = this.#part;
    copy.#checkpoints = this.#checkpoints.clone();
    return copy;
  }

  /** A parser that goes on from a checkpoint. */
  static resume(plan: Plan, sink: Sink, from: Checkpoint): RowParser {
    const parser = new RowParser(plan, sink);
    parser.#keeper = from.keeper.clone();
    parser.#spreader = from.spreader?.clone(plan.time) ?? null;
    parser.#offset = from.offset;
    parser.#line = from.line;
    parser.#row = from.row;
    parser.#part = from.part;
    parser.#checkpoints = Checkpoints.none();
    return parser;
  }

  /** Checkpoints so far, about one in 256 KiB and at most some thousand. */
  get checkpoints(): readonly Checkpoint[] {
    return this.#checkpoints.list;
  }

  /** How its plainest rows are written; null where none of them is plain. */
  get plainForm(): PlainForm | null {
    return this.#plain?.form ?? null;
  }

  /**
   * Takes the next bytes of the file. The buffer may be used again afterwards.
   *
   * @param piece that the bytes are all of, where its plain rows were read before
   */
  push(bytes: Uint8Array, piece: SharedPiece | null = null): void {
    const { lineEnd } = this.#plan;
    let from = 0;
    if (this.#carryLength > 0) {
      const end = bytes.indexOf(lineEnd);
      const to = end < 0 ? bytes.length : end + 1;
      this.#keep(bytes, 0, to);
      this.#offset += to;
      if (end < 0) return;
      const length = this.#carryLength;
      this.#carryLength = 0;
      // Room for a look at the byte behind a CR, which must not be one of an older line.
      this.#scan(this.#carry, 0, length, this.#offset - length);
      from = to;
    }
    const last = bytes.lastIndexOf(lineEnd);
    const end = last < from ? from : last + 1;
    if (end > from) this.#scan(bytes, from, end, this.#offset - from, piece);
    this.#offset += end - from;
    if (end < bytes.length) {
      this.#keep(bytes, end, bytes.length);
      this.#offset += bytes.length - end;
    }
  }

  /** Whether nothing would come of ending the file here. */
  get settled(): boolean {
    return this.#carryLength === 0 && (this.#spreader?.empty ?? true);
  }

  /** Ends the file: what is left without a line end is the last line. */
  finish(): void {
    if (this.#carryLength > 0) {
      const rest = this.#carry.subarray(0, this.#carryLength);
      this.#carryLength = 0;
      this.#lines(rest, true);
    }
    this.#spreader?.flush(null, this.#sink);
  }

  /** Puts the start of a line aside. NUL bytes are padding and are not kept, however many they are. */
  #keep(bytes: Uint8Array, from: number, to: number): void {
    for (let i = from; i < to; i++) {
      const byte = bytes[i] ?? 0;
      if (byte === 0) continue;
      if (this.#carryLength === longestLine) throw lineTooLong(this.#plan.name, this.#line + 1);
      if (this.#carryLength === this.#carry.length) {
        const larger = new Uint8Array(2 * this.#carry.length);
        larger.set(this.#carry);
        this.#carry = larger;
      }
      this.#carry[this.#carryLength++] = byte;
    }
  }

  /**
   * Reads whole lines.
   *
   * @param bytes ends with a line end at `to`
   * @param base bytes of the file before `bytes[0]`
   * @param piece that `bytes` are all of, where its plain rows were read before
   */
  #scan(bytes: Uint8Array, from: number, to: number, base: number, piece: SharedPiece | null = null): void {
    const { lineEnd } = this.#plan;
    const quick = this.#quick;
    const plain = this.#plain;
    let at = from;
    while (at < to) {
      if (base + at >= this.#checkpoints.next) this.#check(base + at);
      const before = plain !== null && (piece?.startsAt(at) ?? false);
      if (plain !== null && (before || this.#line >= this.#plainFrom)) {
        const { rows } = plain;
        if (before) piece?.give(rows);
        else rows.take(bytes, at, Math.min(to, this.#checkpoints.next - base));
        if (rows.count > 0) {
          this.#takePlain(plain);
          at = rows.next;
          continue;
        }
        this.#plainFrom = this.#line + patience;
      }
      if (quick !== null && this.#line >= this.#headerLines) {
        const next = quick.read(bytes, at);
        if (next > 0) {
          this.#takeQuick(quick);
          at = next;
          continue;
        }
      }
      const end = bytes.indexOf(lineEnd, at);
      const line = bytes.subarray(at, end);
      if (isTooLong(line)) throw lineTooLong(this.#plan.name, this.#line + 1);
      this.#lines(line, false);
      at = end + 1;
    }
  }

  /** Takes the row whose cells the quick way has read. */
  #takeQuick(quick: QuickRow): void {
    const { cells } = quick;
    this.#line++;
    const raw =
      this.#timeColumn < 0
        ? this.#row
        : this.#dateColumn < 0
          ? (cells[this.#timeColumn] ?? 0)
          : (cells[this.#dateColumn] ?? 0) + (cells[this.#timeColumn] ?? 0);
    if (raw >= overloadFrom || raw <= -overloadFrom) {
      this.#sink.tally.lose('no time', this.#line);
      return;
    }
    const columns = this.#valueColumns;
    for (let k = 0; k < columns.length; k++) {
      const value = cells[columns[k] ?? 0] ?? 0;
      if (value < overloadFrom && value > -overloadFrom) this.#values[k] = value;
      else this.#lost(k, overloadMark(value));
    }
    this.#take(raw);
  }

  /** Takes the rows that were read as plain ones. */
  #takePlain(plain: PlainRun): void {
    const { count } = plain.rows;
    if (this.#timeColumn < 0) plain.number(this.#row);
    let at = 0;
    while (at < count) {
      // The first row begins the first part.
      const to = this.#part === 0 ? at : plain.place(this.#keeper, at);
      if (to > at) {
        this.#line += to - at;
        this.#row += to - at;
        this.#sink.addRun(plain.run);
        at = to;
      } else {
        this.#line++;
        plain.values(at, this.#values);
        this.#take(plain.raw(at));
        at++;
      }
    }
  }

  #lost(index: number, mark: ReturnType<typeof overloadMark>): void {
    this.#values[index] = standIn(mark);
    if (index === 0) this.#sink.tally.lose(mark === 'text' ? 'unreadable' : mark, this.#line);
  }

  /** Passes a row on whose values are in place. */
  #take(raw: number): void {
    this.#row++;
    const sink = this.#sink;
    if (this.#spreader !== null) {
      if (this.#spreader.row(raw, this.#values, this.#line, this.#keeper, sink)) this.#part++;
      return;
    }
    const ordinary = this.#keeper.place(raw, this.#line, sink.tally);
    if (ordinary === outOfOrder) return;
    let time = ordinary;
    if (ordinary === restarted || this.#part === 0) {
      this.#part++;
      sink.begin(this.#line, raw);
      time = 0;
    }
    const value = this.#values[0] ?? Number.NaN;
    if (Number.isFinite(value)) sink.add(time, value);
    else missing(time, value, sink);
    for (let k = 1; k < this.#values.length; k++) {
      const other = this.#values[k] ?? Number.NaN;
      if (Number.isFinite(other)) sink.addCompanion(k - 1, time, other);
    }
  }

  /** Reads a line the careful way; a lone CR in it ends a line as well. */
  #lines(bytes: Uint8Array, cut: boolean): void {
    const text = this.#decode(bytes).replace(/\r+$/, '');
    const lines = text.split('\r');
    lines.forEach((line, i) => {
      this.#line++;
      this.#careful(line, cut && i === lines.length - 1);
    });
  }

  #careful(line: string, cut: boolean): void {
    if (this.#line <= this.#headerLines || line.replaceAll('\u001a', '').trim() === '') return;
    if (line.trim() === this.#plan.nameLine) {
      this.#keeper.announceHeader();
      return;
    }
    const row = this.#readCarefully(line, cut);
    if (row.loss !== null) this.#sink.tally.lose(row.loss, this.#line);
    if (row.raw !== null) this.#take(row.raw);
  }

  /** Reads the cells of a line; without a raw time there is no row in it. Puts the values in place. */
  #readCarefully(line: string, cut: boolean): { raw: number | null; loss: Loss | null } {
    const { style, time } = this.#plan;
    if (commentText(line) !== null) return { raw: null, loss: 'text line' };
    const cells = rowCells(line, style);
    if (cut && this.#isCut(cells)) return { raw: null, loss: 'cut off' };
    const raw = rawTime(cells, time.cells, style, this.#row);
    const read = this.#valueColumns.map((column) => this.#value(cells[column] ?? '', column));
    const nothing = Number.isNaN(raw) && read.every((value) => value === 'text');
    if (nothing || !/\d/.test(line)) return { raw: null, loss: 'text line' };
    if (cells.slice(style.fields).some((cell) => cell !== '')) return { raw: null, loss: 'too many cells' };
    if (Number.isNaN(raw)) return { raw: null, loss: 'no time' };
    read.forEach((value, k) => {
      this.#values[k] = standIn(value);
    });
    const [own = 'blank'] = read;
    if (typeof own === 'number') return { raw, loss: null };
    const short = cells.length <= (this.#valueColumns[0] ?? 0);
    return { raw, loss: short ? 'too few cells' : own === 'text' ? 'unreadable' : own };
  }

  #value(cell: string, column: number): ReturnType<typeof parseNumber> {
    const { style, columns } = this.#plan;
    const value = parseCell(cell, style, columns[column]?.suffix ?? null);
    if (value !== 'text') return value;
    // Thousands marks that the first rows did not need are certain only beside a decimal mark.
    const group = style.decimal === '.' ? ',' : '.';
    if (style.thousands !== null || style.delimiter === group || !cell.includes(style.decimal)) return value;
    return parseNumber(cell, { decimal: style.decimal, thousands: group });
  }

  /** Whether a line without a line end cannot be all of its row. */
  #isCut(cells: readonly string[]): boolean {
    const { style, columns } = this.#plan;
    const named = columns.filter((column) => column.kind !== 'blank');
    const last = named.at(-1);
    if (last === undefined || cells.length < last.index + 1) return true;
    const cell = cells[last.index] ?? '';
    if (last.kind === 'text' || cells.length > last.index + 1) return false;
    if (cell === '' || /[-+eE.,:]$/.test(cell)) return true;
    if (last.decimals === null || last.decimals === 0) return false;
    const at = cell.indexOf(style.decimal);
    return (
      typeof parseNumber(cell, style) === 'number' && (at < 0 ? 0 : cell.length - at - 1) < last.decimals
    );
  }

  #check(offset: number): void {
    if (this.#spreader !== null && !this.#spreader.fresh) return;
    this.#checkpoints.add({
      offset,
      line: this.#line,
      row: this.#row,
      part: this.#part,
      time: this.#part === 0 ? 0 : this.#keeper.latest,
      keeper: this.#keeper.clone(),
      spreader: this.#spreader?.clone(this.#plan.time) ?? null,
    });
  }
}

/** What stands for a cell among the values of a row. */
function standIn(cell: ReturnType<typeof parseNumber>): number {
  if (typeof cell === 'number') return cell;
  return cell === 'overload' ? overloaded : Number.NaN;
}
