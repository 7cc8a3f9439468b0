import type { DuckDBAppender, DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { type Cell, plainText } from '../export/index.ts';
import { type BinaryPart, binaryPart } from '../remark/index.ts';
import { QueryError } from './query-error.ts';
import type { QueryAnswer, QueryColumn, QueryTable } from './types.ts';

const engine: BinaryPart = {
  makes: 'A question over results',
  packageName: '@duckdb/node-api',
  instead: 'write the results as .csv or .xlsx (emberline export) and ask another program',
};

/** How far a question may go. */
export interface QueryLimits {
  /** Rows that are given back at most. */
  readonly rows: number;
  /** s */
  readonly time: number;
}

const sqlTypes: Readonly<Record<QueryColumn['type'], string>> = {
  string: 'VARCHAR',
  number: 'DOUBLE',
  integer: 'BIGINT',
  boolean: 'BOOLEAN',
  moment: 'TIMESTAMP',
};

/**
 * What the engine may do from its first moment on: nothing but reckon in its memory. No files, no network, no
 * extensions, and no spilling to the disk.
 */
const settings = {
  threads: '2',
  memory_limit: '1GB',
  max_temp_directory_size: '0KB',
  enable_external_access: 'false',
  autoload_known_extensions: 'false',
  autoinstall_known_extensions: 'false',
  allow_community_extensions: 'false',
} as const;

/** Longer ones are no question that a person writes. */
const longestQuestion = 20_000;
/** A question that does not stop when it is told to is left behind after so long, ms. */
const patience = 2000;

/**
 * Answers one SELECT over tables, in an engine that can neither read nor write anything else (DuckDB in memory, its
 * settings locked).
 *
 * @throws QueryError where the question cannot be understood, asks for more than reading, or takes too long; MissingPartError
 *   where no engine fits this machine
 */
export async function askTables(
  tables: readonly QueryTable[],
  question: string,
  limits: QueryLimits,
): Promise<QueryAnswer> {
  if (question.trim() === '') throw new QueryError('empty', 'There is no question.', 'Write a SELECT.');
  if (question.length > longestQuestion) {
    throw new QueryError(
      'unfit',
      'The question is too long.',
      `Write at most ${longestQuestion} characters.`,
    );
  }
  const { DuckDBInstance } = await binaryPart(engine, () => import('@duckdb/node-api'));
  const instance = await DuckDBInstance.create(':memory:', settings);
  let stuck = false;
  try {
    const connection = await instance.connect();
    for (const table of tables) await fill(connection, table);
    await connection.run('SET lock_configuration=true');
    return await withinTime(connection, limits.time, () => answered(connection, question, limits.rows));
  } catch (error) {
    stuck = error instanceof QueryError && error.kind === 'stuck';
    throw error;
  } finally {
    if (!stuck) closed(instance);
  }
}

function closed(instance: DuckDBInstance): void {
  instance.closeSync();
}

async function fill(
  connection: DuckDBConnection,
  { name, meaning, columns, rows }: QueryTable,
): Promise<void> {
  const declared = columns.map((one) => `"${one.name}" ${sqlTypes[one.type]}`).join(', ');
  await connection.run(`CREATE TABLE "${name}" (${declared})`);
  await connection.run(`COMMENT ON TABLE "${name}" IS ${quoted(meaning)}`);
  for (const one of columns) {
    const unit = one.unit === null || one.unit === '1' ? '' : ` In ${one.unit}.`;
    await connection.run(`COMMENT ON COLUMN "${name}"."${one.name}" IS ${quoted(`${one.meaning}${unit}`)}`);
  }
  const { timestampValue } = await import('@duckdb/node-api');
  const appender = await connection.createAppender(name);
  for (const row of rows) {
    columns.forEach(({ type }, place) => {
      const cell = row[place] ?? null;
      if (type === 'moment' && typeof cell === 'string') {
        appender.appendTimestamp(timestampValue(BigInt(Date.parse(cell)) * 1000n));
      } else append(appender, type, cell);
    });
    appender.endRow();
  }
  appender.closeSync();
}

function append(appender: DuckDBAppender, type: QueryColumn['type'], cell: Cell): void {
  if (typeof cell === 'string') appender.appendVarchar(cell);
  else if (typeof cell === 'boolean') appender.appendBoolean(cell);
  else if (cell === null) appender.appendNull();
  else if (type === 'integer') appender.appendBigInt(BigInt(Math.round(cell)));
  else appender.appendDouble(cell);
}

async function withinTime<T>(
  connection: DuckDBConnection,
  seconds: number,
  work: () => Promise<T>,
): Promise<T> {
  let late = false;
  let told: NodeJS.Timeout | undefined;
  let left: NodeJS.Timeout | undefined;
  const slow = (kind: 'slow' | 'stuck') =>
    new QueryError(
      kind,
      `The question took longer than ${seconds} s, and was stopped.`,
      'Ask for less, or allow more time.',
    );
  const deadline = new Promise<never>((_, refuse) => {
    told = setTimeout(() => {
      late = true;
      connection.interrupt();
      left = setTimeout(() => refuse(slow('stuck')), patience);
    }, seconds * 1000);
  });
  try {
    return await Promise.race([work(), deadline]);
  } catch (error) {
    if (late && !(error instanceof QueryError)) throw slow('slow');
    throw error;
  } finally {
    clearTimeout(told);
    clearTimeout(left);
  }
}

async function answered(connection: DuckDBConnection, question: string, most: number): Promise<QueryAnswer> {
  const { StatementType } = await import('@duckdb/node-api');
  const extracted = await understood(() => connection.extractStatements(question));
  if (extracted.count !== 1) {
    throw new QueryError('unfit', `There are ${extracted.count} statements.`, 'Ask one question at a time.');
  }
  const prepared = await understood(() => extracted.prepare(0));
  if (prepared.statementType !== StatementType.SELECT) {
    throw new QueryError(
      'unfit',
      `This is no question (${StatementType[prepared.statementType] ?? 'unknown'}).`,
      'Write a SELECT; results are read here and never changed.',
    );
  }
  if (prepared.parameterCount > 0) {
    throw new QueryError('unfit', 'The question has places left open (?).', 'Write the values into it.');
  }
  const result = await understood(() => prepared.stream());
  const columns = result.deduplicatedColumnNames().map(plainText);
  const rows: Cell[][] = [];
  for (;;) {
    const chunk = await understood(() => result.fetchChunk());
    if (chunk === null || chunk.rowCount === 0) return { columns, rows, cut: false };
    for (const row of chunk.getRows()) {
      if (rows.length >= most) return { columns, rows, cut: true };
      rows.push(row.map(cellOf));
    }
  }
}

/** What the engine says of a question, without the tale of how it found out. */
async function understood<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    if (text.startsWith('INTERRUPT')) throw error;
    const plain = text.replace(/^Failed to extract statements: /, '');
    if (/file system operations are disabled|external extensions|extension .*not found/i.test(plain)) {
      throw new QueryError(
        'unfit',
        'The question reaches beyond the tables: files, the network and extensions are closed to it.',
        'Ask the tables that emberline query --tables lists.',
      );
    }
    if (plain === 'Error in native callback') {
      throw new QueryError('empty', 'There is no question in this.', 'Write a SELECT.');
    }
    throw new QueryError(
      'unfit',
      `It is not understood: ${plain.trim().slice(0, 1500)}`,
      'Mend it there; emberline query --tables lists tables and columns.',
    );
  }
}

/** A value of the engine as a cell: what is no number, text or truth becomes text. */
function cellOf(value: unknown): Cell {
  if (value === null || value === undefined) return null;
  if (typeof value === 'boolean') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  if (typeof value === 'bigint') {
    const number = Number(value);
    return Number.isSafeInteger(number) ? number : String(value);
  }
  if (isDecimal(value)) return value.toDouble();
  return plainText(String(value));
}

/** Decimals are numbers of their own there. */
function isDecimal(value: unknown): value is { readonly toDouble: () => number } {
  return (
    typeof value === 'object' && value !== null && 'toDouble' in value && typeof value.toDouble === 'function'
  );
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
