import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { askTables, QueryError, queryTables } from '../../src/query/index.ts';
import { twoTerms } from './terms.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-query-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const secret = join(root, 'secret.csv');
writeFileSync(secret, 'name,mark\nnobody,1\n');

const tables = queryTables(twoTerms());
const limits = { rows: 1000, time: 60 };
const ask = (sql: string) => askTables(tables, sql, limits);

async function refusal(sql: string, own = limits): Promise<string> {
  return askTables(tables, sql, own).then(
    ({ rows }) => `answered ${JSON.stringify(rows).slice(0, 200)}`,
    (error: unknown) =>
      error instanceof QueryError ? `${error.kind}: ${error.message} ${error.mend}` : `other: ${error}`,
  );
}

describe('a question', () => {
  test('is answered over all terms', async () => {
    const { columns, rows, cut } = await ask(
      'SELECT term, count(*) AS n, exp(avg(ln(time_constant))) AS tau FROM trials WHERE counts GROUP BY term ORDER BY term',
    );
    expect({ columns, cut }).toEqual({ columns: ['term', 'n', 'tau'], cut: false });
    // The geometric mean of 36 and 49 is 42.
    expect(rows).toEqual([
      ['2026-autumn', 1, 40],
      ['2026-spring', 2, expect.closeTo(42, 9)],
    ]);
  });

  test('finds what theory expects beside what was measured', async () => {
    const { rows } = await ask(
      "SELECT measured, trials, predicted > 20, reynolds > 5000, material FROM conditions WHERE term = '2026-spring' AND body = 'brass-12' AND flow = '120'",
    );
    expect(rows).toEqual([[expect.closeTo(42, 9), 2, true, true, expect.stringContaining('brass')]]);
  });

  test('finds checks, reference runs and decisions with what does not count', async () => {
    expect((await ask('SELECT id, value, counts, made_at FROM rig_checks')).rows).toEqual([
      ['c1', 0.0014, false, '2026-10-05 12:30:00'],
    ]);
    expect(
      (await ask('SELECT term, round(time_constant/expected, 3), counts FROM reference_runs')).rows,
    ).toEqual([['2026-spring', 0.964, true]]);
    const joined = await ask(
      'SELECT d.who, d.why, t.why_not FROM decisions d JOIN trials t USING (term, recording) WHERE d.counts',
    );
    expect(joined.rows).toEqual([['IK', 'other body', 'IK took it out: other body']]);
  });

  test('gives numbers as numbers, whatever the engine calls them, and nothing for what is none', async () => {
    const { rows, columns } = await ask(
      "SELECT 1.5::DECIMAL(5,2), 10::BIGINT, 2::HUGEINT, 9007199254740993::BIGINT, 'NaN'::DOUBLE, NULL, true, DATE '2026-01-02', [1, 2], 1 AS x, 2 AS x",
    );
    expect(rows).toEqual([
      [1.5, 10, 2, '9007199254740993', null, null, true, '2026-01-02', expect.stringContaining('1'), 1, 2],
    ]);
    expect(new Set(columns).size).toBe(columns.length);
  });

  test('knows what its columns mean', async () => {
    const { rows } = await ask(
      "SELECT comment FROM duckdb_columns() WHERE table_name = 'trials' AND column_name IN ('term', 'ambient') ORDER BY column_name DESC",
    );
    expect(rows).toEqual([
      ['Term of the experiment folder.'],
      ['Temperature to which the body cooled. In °C.'],
    ]);
    const { rows: untold } = await ask(
      "SELECT count(*) FROM duckdb_columns() WHERE database_name = 'memory' AND comment IS NULL",
    );
    expect(untold).toEqual([[0]]);
  });

  test('is cut where it has more rows than were asked for', async () => {
    const { rows, cut } = await askTables(tables, 'FROM range(100000)', { rows: 7, time: 60 });
    expect(rows).toHaveLength(7);
    expect(cut).toBe(true);
    expect((await askTables(tables, 'FROM range(7)', { rows: 7, time: 60 })).cut).toBe(false);
  });
});

describe('a hostile question', () => {
  const out = join(root, 'out');
  test.each([
    `SELECT * FROM read_csv('${secret}')`,
    `SELECT * FROM '${secret}'`,
    `FROM read_text('${secret}')`,
    `FROM read_blob('${secret}')`,
    `FROM glob('${root}/*')`,
    `FROM sniff_csv('${secret}')`,
    `FROM parquet_scan('${secret}')`,
    `COPY trials TO '${out}'`,
    `EXPORT DATABASE '${out}'`,
    `ATTACH '${out}'`,
    `FROM duckdb_secrets()`,
    'INSTALL httpfs',
    'LOAD httpfs',
    "FROM read_csv('https://localhost/x.csv')",
    'SET enable_external_access = true',
    "SET memory_limit = '1TB'",
    'RESET lock_configuration',
    'PRAGMA enable_profiling',
    'DROP TABLE trials',
    'DELETE FROM trials',
    "UPDATE trials SET term = 'x'",
    'INSERT INTO trials SELECT * FROM trials',
    'CREATE TABLE mine AS SELECT 1',
    'CREATE MACRO m() AS 1',
    'CALL pragma_version()',
    'CHECKPOINT',
    'USE system',
    'SELECT 1; DROP TABLE trials',
    "FROM query('DROP TABLE trials')",
    'WITH gone AS (DELETE FROM trials RETURNING *) FROM gone',
    'SELECT ?',
    "SELECT getenv('HOME')",
    'EXPLAIN ANALYZE DELETE FROM trials',
  ])('is refused: %s', async (sql) => {
    expect(await refusal(sql)).toMatch(/^unfit: /);
    expect(existsSync(out)).toBe(false);
  });

  test('finds the tables as they were', async () => {
    await refusal('SELECT 1; DROP TABLE trials');
    expect((await ask('SELECT count(*) FROM trials')).rows).toEqual([[4]]);
  });

  test('is stopped when its time is over', async () => {
    const endless =
      'SELECT count(*) FROM range(10000000000) a, range(10000000000) b WHERE (a.range * b.range) % 7 = 1';
    expect(await refusal(endless, { rows: 10, time: 1 })).toContain(
      'slow: The question took longer than 1 s',
    );
  });

  test('has its memory bounded', async () => {
    const large =
      'SELECT max(length(s)) FROM (SELECT string_agg(md5(range::VARCHAR)) AS s FROM range(200000000))';
    expect(await refusal(large, { rows: 10, time: 20 })).toMatch(/^(unfit: .*[Mm]emory|slow: )/s);
  });

  test.each([
    ['', 'empty'],
    ['  \n', 'empty'],
    ['-- nothing', 'empty'],
    ['SELEC 1', 'syntax error'],
    ['SELECT nope FROM trials', 'nope'],
    ['SELECT * FROM nothing', 'emberline query --tables'],
    ['x'.repeat(20_001), 'too long'],
  ])('that is none says so: %s', async (sql, words) => {
    expect(await refusal(sql)).toContain(words);
  });
});

describe('docs/query.md', () => {
  const text = readFileSync('docs/query.md', 'utf8');
  const questions = [...text.matchAll(/```sql\n([\s\S]*?)```/g)].map(([, sql = '']) => sql);

  test('asks questions that can be answered', async () => {
    expect(questions.length).toBeGreaterThan(5);
    for (const sql of questions) expect(await refusal(sql), sql).toMatch(/^answered/);
  });

  test('describes every column of every table', () => {
    for (const { name, columns } of tables) {
      expect(text).toContain(`## ${name}`);
      for (const column of columns) expect(text).toContain(`| \`${column.name}\` |`);
    }
  });
});
