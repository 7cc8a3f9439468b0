import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openRecordingFile } from '../../src/archive/index.ts';
import { writeArchiveFile } from '../../src/archive/write.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { decayText } from '../hostile/recording.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-hostile-archive-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const good = join(root, 'good.parquet');
let made = 0;
let words: Readonly<Record<string, string>> = {};

beforeAll(async () => {
  const text = join(root, 'good.txt');
  writeFileSync(text, decayText());
  await writeArchiveFile({ text, recording: 'recordings/good.txt', reading: {}, modified: 0 }, good);
  const rows = await sql(`SELECT decode(key), decode(value) FROM parquet_kv_metadata('${good}')`);
  words = Object.fromEntries(rows.map(([key, value]) => [String(key), String(value)]));
});

async function sql(statement: string): Promise<readonly (readonly unknown[])[]> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    return await (await connection.run(statement)).getRows();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

/** The good file with other rows or other words of its own. */
async function spoilt(rows: string, change: (words: Record<string, string>) => void = () => undefined) {
  made += 1;
  const path = join(root, `spoilt-${made}.parquet`);
  const own = { ...words };
  change(own);
  const quoted = (value: string) => `'${value.replaceAll("'", "''")}'`;
  const stated = Object.entries(own).map(([key, value]) => `"${key}": ${quoted(value)}`);
  const stating = stated.length === 0 ? '' : `, KV_METADATA {${stated.join(', ')}}`;
  await sql(`COPY (${rows.replaceAll('good', `'${good}'`)}) TO '${path}' (FORMAT parquet${stating})`);
  return path;
}

async function refusal(path: string): Promise<string> {
  return openRecordingFile(path).then(
    () => 'read',
    (error: unknown) =>
      error instanceof RecordingError ? `${error.code}: ${error.message}` : `other: ${error}`,
  );
}

const changed = (change: (told: Record<string, unknown>) => void) => (own: Record<string, string>) => {
  const told: Record<string, unknown> = JSON.parse(own['reread'] ?? '');
  change(told);
  own['reread'] = JSON.stringify(told);
};

describe('a file that is not as it was written', () => {
  test('is read where only its packing is another one', async () => {
    const path = await spoilt('SELECT * FROM good');
    expect((await openRecordingFile(path)).samples).toBe(1200);
  });

  test.each<[string, string, Parameters<typeof spoilt>[1], RegExp]>([
    [
      'no words of ours',
      'SELECT * FROM good',
      (own) => {
        for (const key of Object.keys(own)) delete own[key];
      },
      /was not written by emberline archive/,
    ],
    [
      'a format to come',
      'SELECT * FROM good',
      (own) => {
        own['format'] = 'emberline samples 2';
      },
      /format/,
    ],
    [
      'no hash',
      'SELECT * FROM good',
      (own) => {
        own['sha256'] = 'abc';
      },
      /sha256/,
    ],
    [
      'no JSON',
      'SELECT * FROM good',
      (own) => {
        own['reread'] = '{';
      },
      /no JSON/,
    ],
    [
      'parts without end',
      'SELECT * FROM good',
      changed((told) => {
        told['parts'] = Array.from({ length: 2000 }, () =>
          Array.isArray(told['parts']) ? told['parts'][0] : null,
        );
      }),
      /parts/,
    ],
    [
      'an opening that unpacks to more',
      'SELECT * FROM good',
      changed((told) => {
        told['opening'] = { gzip: 'AAAA', complete: true };
      }),
      /opening of its text is damaged/,
    ],
    [
      'a column twice',
      'SELECT * FROM good',
      changed((told) => {
        told['columns'] = [2, 2];
      }),
      /names a column twice/,
    ],
    [
      'another channel',
      'SELECT * FROM good',
      changed((told) => {
        told['columns'] = [1];
      }),
      /archive was made for column 1/,
    ],
    ['rows missing', 'SELECT * FROM good WHERE sample < 1000', undefined, /holds 999 rows and says 1200/],
    ['a column missing', 'SELECT * EXCLUDE (overload) FROM good', undefined, /column overload is missing/],
    [
      'a column of another type',
      'SELECT * REPLACE (value::VARCHAR AS value) FROM good',
      undefined,
      /column value is missing, or is no DOUBLE/,
    ],
    [
      'times that run backwards',
      'SELECT * REPLACE (-time_s AS time_s) FROM good',
      undefined,
      /times run backwards/,
    ],
    [
      'a time without end',
      'SELECT * REPLACE (NULL::DOUBLE AS time_s) FROM good',
      undefined,
      /a reading has no time/,
    ],
    [
      'a part that is not said',
      'SELECT * REPLACE ((part + 1)::INTEGER AS part) FROM good',
      undefined,
      /parts are out of order/,
    ],
  ])('is refused with a sentence: %s', async (_name, rows, change, sentence) => {
    const said = await refusal(await spoilt(rows, change));
    expect(said).toMatch(/^archive-(damaged|unfit): /);
    expect(said).toMatch(sentence);
    expect(said).toMatch(/backup/);
  });

  test('is refused where it is cut off, scrambled, or something else', async () => {
    const bytes = readFileSync(good);
    const cut = join(root, 'cut.parquet');
    writeFileSync(cut, bytes);
    truncateSync(cut, bytes.length - 5);
    // Then it is a text that nobody can read.
    expect(await refusal(cut)).toMatch(/^not-text: /);
    const large = join(root, 'large-footer.parquet');
    const footer = Buffer.from(bytes);
    footer.writeUInt32LE(1 << 30, footer.length - 8);
    writeFileSync(large, footer);
    expect(await refusal(large)).toMatch(/^archive-damaged: .*footer is larger/);
    const scrambled = join(root, 'scrambled.parquet');
    const noise = Buffer.from(bytes);
    noise.fill(0xa5, noise.length - 2000, noise.length - 1900);
    writeFileSync(scrambled, noise);
    expect(await refusal(scrambled)).toMatch(/^archive-damaged: /);
    const rows = join(root, 'scrambled-rows.parquet');
    const middle = Buffer.from(bytes);
    middle.fill(0xa5, 40, 400);
    writeFileSync(rows, middle);
    expect(await refusal(rows)).toMatch(/^archive-damaged: /);
  });

  test('of a name with the signs of a pattern is that file and no other', async () => {
    const odd = join(root, "o'dd [1] *.parquet");
    writeFileSync(odd, readFileSync(good));
    expect((await openRecordingFile(odd)).samples).toBe(1200);
  });
});
