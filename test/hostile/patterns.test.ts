import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { experimentSchema, parseChecked } from '../../src/experiment/index.ts';
import { NamesError, readNames } from '../../src/export/index.ts';
import { readRecordingFile } from '../../src/recording/files.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { ownWords } from '../../src/report/briefing-markdown.ts';
import { sheetCells } from '../../src/store/submission-cells.ts';

/**
 * Texts on which a search that goes back and forth takes the square of their length or worse. At these lengths a square
 * takes minutes, so that the time limit of a test tells it from work in one go, on any machine.
 */
const long = 60_000;
const repeated = (text: string) => text.repeat(Math.floor(long / text.length));
const texts: Readonly<Record<string, string>> = {
  'blanks within': `a${repeated(' ')}x`,
  'tabs within': `a${repeated('\t')}x`,
  'blanks behind a unit': `unit: a${repeated(' ')}b`,
  'blanks behind an interval': `interval ${repeated(' ')}s`,
  'digits and a stranger': `${repeated('1')}!`,
  'digits with commas': `${repeated('1,')}!`,
  'digits with exponents': repeated('1e'),
  'brackets that open': repeated('('),
  'brackets that close': repeated(']'),
  'pairs of brackets': repeated(' (a)'),
  'words between': repeated('a in '),
  underscores: `a${repeated('_')}!`,
  slashes: repeated('a / '),
  'marks of comments': repeated('# '),
  'equal signs': repeated('a='),
  'words of rates': repeated('sampl'),
  'words of intervals': repeated('interval'),
  dates: repeated('1/1/1 '),
  'a date without end': `1-1-1${repeated('T')}`,
  'marks of emphasis': repeated('**a_'),
  'marks of pictures': `![${repeated('](')}`,
  braces: repeated('{body}'),
  'signs of tolerance': repeated('+-'),
  'percent signs': repeated('% '),
  quotes: repeated('"'),
};

const table = Array.from({ length: 300 }, (_, i) => `${i / 10};${20 + 60 * Math.exp(-i / 50)}`).join('\n');
const folder = mkdtempSync(join(tmpdir(), 'emberline-patterns-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(Object.entries(texts))('%s', (_, text) => {
  test.each([
    ['before the table', `${text}\n${text}\nTime (s);Temp (degC)\n${table}\n`],
    ['in the header', `Time (s);${text}\n${table}\n`],
    ['in the table', `Time (s);Temp (degC)\n${table}\n30;${text}\n${table}\n`],
    ['and nothing else', `${text}\n${text}\n`],
  ])('%s: a recording is read or refused in one go', { timeout: 15_000 }, async (where, content) => {
    const path = join(folder, 'recording.txt');
    writeFileSync(path, content);
    const read = await readRecordingFile(path).catch((error: unknown) => error);
    if (read instanceof Error) expect(read).toBeInstanceOf(RecordingError);
    else expect(read).toMatchObject({ channel: { column: expect.any(Number) } });
    if (where === 'and nothing else') expect(read).toBeInstanceOf(Error);
  });

  test('everything else that is read is answered in one go as well', { timeout: 30_000 }, async () => {
    for (const yaml of [
      text,
      `course: ${text}\n`,
      `recordings: ${text}\n`,
      `bodies: { a: { diameter: ${text} } }`,
    ]) {
      expect(parseChecked(yaml, experimentSchema).ok).toBe(false);
    }
    for (const sheet of [`recording,point\na,${text}\n`, `recording,${text}\na,1\n`, `${text}\n`]) {
      expect(await sheetCells(Buffer.from(sheet))).toHaveProperty('rows');
    }
    expect(ownWords(text, new Map()).blocks.length + ownWords(text, new Map()).faults.length).toBeGreaterThan(
      0,
    );
    try {
      expect(readNames(text).size).toBeGreaterThan(0);
    } catch (error) {
      expect(error).toBeInstanceOf(NamesError);
    }
  });
});
