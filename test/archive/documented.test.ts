import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { archivePlace } from '../../src/archive/place.ts';
import { archivedColumnName, fixedColumns } from '../../src/archive/rows.ts';
import { runCommand } from '../cli/run.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-documented-'));
const documented = readFileSync('docs/archive.md', 'utf8');
const statements = [...documented.matchAll(/```sql\n([\s\S]*?)```/g)].map(([, sql = '']) => sql.trim());
const views = statements.filter((sql) => sql.startsWith('CREATE VIEW'));
const questions = statements.filter((sql) => !sql.startsWith('CREATE VIEW'));
let engine: DuckDBInstance | null = null;

async function ask(sql: string): Promise<Record<string, unknown>[]> {
  engine ??= await opened();
  const connection = await engine.connect();
  try {
    return (await (await connection.run(sql)).getRowObjectsJson()) as Record<string, unknown>[];
  } finally {
    connection.closeSync();
  }
}

async function opened(): Promise<DuckDBInstance> {
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection: DuckDBConnection = await instance.connect();
  for (const view of views) {
    await connection.run(view.replaceAll("read_parquet('", `read_parquet('${root}/`));
  }
  connection.closeSync();
  return instance;
}

beforeAll(async () => {
  const { status } = await runCommand(['archive', resolve('demo/thornwick'), '--out', root]);
  expect(status).toBe(0);
}, 300_000);
afterAll(() => {
  engine?.closeSync();
  rmSync(root, { recursive: true, force: true });
});

describe('docs/archive.md', () => {
  test('has two tables and questions about them', () => {
    expect(views.length).toBe(2);
    expect(questions.length).toBeGreaterThan(5);
  });

  test.each(questions.map((sql) => [sql]))('has an answer: %s', async (sql) => {
    const rows = await ask(sql);
    expect(Array.isArray(rows)).toBe(true);
    // Only the marks of overload may be missing in a course, and time constants that nobody kept.
    if (!/overload|time_constant IS NOT NULL/.test(sql)) expect(rows.length).toBeGreaterThan(0);
  });

  test('says what the columns are, in its table and for a cluster', async () => {
    const types = Object.fromEntries(
      (await ask('DESCRIBE SELECT * FROM samples')).map((row) => [row['column_name'], row['column_type']]),
    );
    expect(types).toMatchObject({ ...fixedColumns, term: 'VARCHAR', section: 'VARCHAR', group: 'VARCHAR' });
    const declared = [...documented.matchAll(/^ {2}(\w+) (STRING|INT|BIGINT|DOUBLE|BOOLEAN),?$/gm)];
    const inEngine = {
      STRING: 'VARCHAR',
      INT: 'INTEGER',
      BIGINT: 'BIGINT',
      DOUBLE: 'DOUBLE',
      BOOLEAN: 'BOOLEAN',
    };
    expect(
      Object.fromEntries(declared.map(([, name, type]) => [name, inEngine[type as keyof typeof inEngine]])),
    ).toEqual(fixedColumns);
    const told = [...documented.matchAll(/^\| (\w+)(?: …)? \| (?:string|int32|int64|double|boolean) \|/gm)];
    expect(told.map(([, name]) => name)).toEqual([...Object.keys(fixedColumns), archivedColumnName(3)]);
  });

  test('has every sample of the course once', async () => {
    const texts = await ask('SELECT sum(samples)::DOUBLE AS samples, count(*)::INTEGER AS n FROM recordings');
    const samples = await ask(
      'SELECT count(value)::DOUBLE AS samples, count(DISTINCT recording)::INTEGER AS n FROM samples',
    );
    expect(samples).toEqual(texts);
    expect(texts[0]?.['n']).toBe(60);
  });
});

describe('the place of a file', () => {
  const nobody = () => false;

  test('is read back by the engine as it was meant, whatever it is called', async () => {
    const odd = { term: '2026/27 "a=b" 100%', section: null, group: 'Ärger: *?[1]' };
    const place = archivePlace('recordings/x.txt', odd, nobody);
    expect(place).toBe(
      'samples/term=2026%2F27 %22a%3Db%22 100%25/section=__HIVE_DEFAULT_PARTITION__/group=Ärger%3A %2A%3F%5B1%5D/x.parquet',
    );
    const own = join(root, 'odd');
    const [file] = readdirSync(join(root, 'samples'), { recursive: true, encoding: 'utf8' }).filter(
      (path) => {
        return path.endsWith('.parquet');
      },
    );
    mkdirSync(dirname(join(own, place)), { recursive: true });
    copyFileSync(join(root, 'samples', file ?? ''), join(own, place));
    const view = views.find((sql) => sql.includes('samples')) ?? '';
    const [, table = ''] = /FROM (read_parquet[\s\S]*);$/.exec(view) ?? [];
    expect(
      await ask(
        `SELECT DISTINCT term, section, "group" FROM ${table.replace("read_parquet('", `read_parquet('${own}/`)}`,
      ),
    ).toEqual([odd]);
  });

  test('is its own, seen by engines, and not too long', () => {
    const values = { term: 't', section: 'A', group: '' };
    const at = (recording: string, taken = nobody) =>
      archivePlace(recording, values, taken).split('/').at(-1);
    expect(at('a/_x.csv')).toBe('%5Fx.parquet');
    expect(at('a/.x.txt.gz')).toBe('%2Ex.parquet');
    expect(at('a/x.txt', () => true)).toMatch(/^x-[0-9a-f]{12}\.parquet$/);
    expect(at('a/x.txt', () => true)).not.toBe(at('b/x.txt', () => true));
    const long = at(`a/${'ä'.repeat(120)}.txt`) ?? '';
    expect(Buffer.byteLength(long)).toBeLessThan(200);
    expect(long).toMatch(/-[0-9a-f]{12}\.parquet$/);
  });
});
