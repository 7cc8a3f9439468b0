import type { Row, SheetData } from 'write-excel-file/node';
import type { CoolingTable } from './cooling-table.ts';
import { textCell } from './xlsx.ts';

/** What a line beside the data shows: a name, a number or a formula, and how it comes about. */
interface WorkedLine {
  readonly name: string;
  readonly is: number | string | null;
  readonly format?: string;
  readonly note: string;
}

/** Columns: A time, B temperature, C error fraction, D and E time and logarithm inside the window; G to I the working. */
const firstDataRow = 2;

/** Rows of the working that formulas point at. */
const given = { start: 2, ambient: 3, from: 4, to: 5 } as const;

/**
 * The sheet in which the regression is worked out: data to the left, each step as a live formula beside them. The
 * formulas use functions that every spreadsheet has, and are written without the sign = in front, as the file wants them
 * (ECMA-376, part 1, 18.17).
 */
export function coolingSheet(table: CoolingTable): SheetData {
  const last = firstDataRow + table.rows.length - 1;
  const beside = workedRows(table, `D$${firstDataRow}:D$${last}`, `E$${firstDataRow}:E$${last}`);
  const data: SheetData = [];
  for (let row = 1; row <= Math.max(last, beside.length); row++) {
    const left = row === 1 ? headRow() : dataRow(table, row);
    data.push([...left, null, ...(beside[row - 1] ?? [])]);
  }
  return data;
}

function headRow(): Row {
  return ['t / s', 'T / °C', 'Γ', 't in the window / s', 'ln Γ in the window'].map((text) =>
    textCell(text, true),
  );
}

function dataRow({ rows }: CoolingTable, row: number): Row {
  const data = rows[row - firstDataRow];
  if (data === undefined) return [null, null, null, null, null];
  const inside = `AND(A${row}>0,C${row}<$H$${given.from},C${row}>$H$${given.to})`;
  return [
    { type: Number, value: data.time, format: '0.000' },
    { type: Number, value: data.temperature, format: '0.000' },
    formulaCell(`(B${row}-$H$${given.ambient})/($H$${given.start}-$H$${given.ambient})`, '0.00000'),
    formulaCell(`IF(${inside},A${row},"")`, '0.000'),
    formulaCell(`IF(${inside},LN(C${row}),"")`, '0.00000'),
  ];
}

function formulaCell(formula: string, format: string): Row[number] {
  return { type: 'Formula', value: formula, format };
}

/** The working, line by line from the first row of the sheet. */
function workedRows(table: CoolingTable, time: string, log: string): Row[] {
  return [
    ...givenRows(table),
    [],
    ...originRows(time, log),
    [],
    ...interceptRows(time, log),
    [],
    ...heldAgainst(table),
  ];
}

function givenRows({ start, ambient, window }: CoolingTable): Row[] {
  return [
    titleRow('Given'),
    lineRow({ name: 'T0 / °C', is: start.temperature, note: 'the hottest reading, at t = 0' }),
    lineRow({ name: 'T∞ / °C', is: ambient, note: 'temperature to which the body cools' }),
    lineRow({ name: 'Γ below', is: window.from, format: '0.00', note: 'rows are taken below this' }),
    lineRow({ name: 'Γ above', is: window.to, format: '0.00', note: 'and above this' }),
  ];
}

/** In rows 7 to 17. */
function originRows(time: string, log: string): Row[] {
  return [
    titleRow('Through the origin: ln Γ = b t'),
    lineRow({ name: 'n', is: `COUNT(${log})`, format: '0', note: 'rows in the window' }),
    lineRow({ name: 'Σ t ln Γ / s', is: `SUMPRODUCT(${time},${log})`, note: '' }),
    lineRow({ name: 'Σ t² / s²', is: `SUMSQ(${time})`, note: '' }),
    lineRow({ name: 'Σ (ln Γ)²', is: `SUMSQ(${log})`, note: '' }),
    lineRow({ name: 'b / (1/s)', is: 'H9/H10', format: '0.00000000', note: 'Σ t ln Γ / Σ t²' }),
    lineRow({ name: 'S', is: 'H11-H12*H9', format: '0.000E+00', note: 'Σ (ln Γ)² − b Σ t ln Γ' }),
    lineRow({
      name: 'u(b) / (1/s)',
      is: 'SQRT(H13/(H8-1)/H10)',
      format: '0.000E+00',
      note: '√(S/((n − 1) Σ t²))',
    }),
    ...timeConstantRows(12, 14, 1),
  ];
}

/** In rows 19 to 25. */
function interceptRows(time: string, log: string): Row[] {
  return [
    titleRow('With an intercept: ln Γ = a + b t'),
    lineRow({
      name: 'b / (1/s)',
      is: `SLOPE(${log},${time})`,
      format: '0.00000000',
      note: 'slope of the line',
    }),
    lineRow({
      name: 'a',
      is: `INTERCEPT(${log},${time})`,
      format: '0.00000',
      note: 'takes up an error of the start',
    }),
    lineRow({
      name: 'u(b) / (1/s)',
      is: `STEYX(${log},${time})/SQRT(DEVSQ(${time}))`,
      format: '0.000E+00',
      note: 'scatter about the line over the spread of t',
    }),
    ...timeConstantRows(20, 22, 2),
  ];
}

/** From slope and its standard error, in the rows given, to what a class prints. */
function timeConstantRows(slope: number, error: number, parameters: 1 | 2): Row[] {
  const own = error + 1;
  return [
    lineRow({ name: 'τ / s', is: `-1/H${slope}`, note: '−1/b' }),
    lineRow({
      name: 'printed standard error / s',
      is: `H${own}^2*H${error}`,
      format: '0.000000',
      note: 'τ² u(b); too small: it takes the rows as independent, T0 and T∞ as exact',
    }),
    lineRow({
      name: 'printed 95 % / s',
      is: `TINV(0.05,H8-${parameters})*H${own + 1}`,
      format: '0.000000',
      note: `Student's t for n − ${parameters} times the standard error`,
    }),
  ];
}

/** From row 27. */
function heldAgainst({ origin, intercept }: CoolingTable): Row[] {
  const from = 'from these rows, with T0, T∞ and the limits of Γ as they were';
  return [
    titleRow('The same by Emberline'),
    lineRow({ name: 'τ / s, through the origin', is: origin?.value ?? null, note: from }),
    lineRow({
      name: 'standard error / s',
      is: origin?.standardError ?? null,
      format: '0.000000',
      note: from,
    }),
    lineRow({ name: 'τ / s, with an intercept', is: intercept?.value ?? null, note: from }),
    lineRow({
      name: 'standard error / s',
      is: intercept?.standardError ?? null,
      format: '0.000000',
      note: from,
    }),
  ];
}

function titleRow(text: string): Row {
  return [textCell(text, true), null, null];
}

function lineRow({ name, is, format = '0.0000', note }: WorkedLine): Row {
  const value: Row[number] =
    is === null
      ? textCell('–')
      : typeof is === 'number'
        ? { type: Number, value: is, format }
        : { type: 'Formula', value: is, format };
  return [textCell(name), value, textCell(note)];
}
