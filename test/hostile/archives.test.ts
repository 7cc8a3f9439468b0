import { appendFileSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { inflate, openFile, type UnpackLimits } from '../../src/recording/disk.ts';
import { readRecordingFile } from '../../src/recording/files.ts';
import { upload } from '../../src/server/contract/index.ts';
import { sheetCells } from '../../src/store/submission-cells.ts';
import { testServer } from '../server/app.ts';
import { zipOf } from '../store/zip.ts';
import { decayText } from './recording.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-archives-'));
let server: Awaited<ReturnType<typeof testServer>>;
beforeAll(async () => {
  server = await testServer({ largestUpload: 1e7 });
});
afterAll(async () => {
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
});

const mebibyte = 1 << 20;

/** 128 MiB of the same line, packed to some hundred kB: read as a recording it would be one of hours. */
function bomb(line: string): Buffer {
  const head = gzipSync('Time (s);Temp (degC)\n0.0;20.0\n0.1;20.0\n');
  // Members of RFC 1952 that follow each other are one file.
  const piece = gzipSync(Buffer.from(line.repeat(Math.ceil(mebibyte / line.length))), { level: 9 });
  return Buffer.concat([head, ...Array.from({ length: 128 }, () => piece)]);
}

/** A line of nothing. */
const blank = `${' '.repeat(60_000)}\n`;

async function read(bytes: Uint8Array): Promise<unknown> {
  const path = join(folder, 'packed.txt.gz');
  writeFileSync(path, bytes);
  return readRecordingFile(path).catch((error: unknown) => error);
}

describe('recordings packed by gzip', () => {
  test('are refused where they unpack to more than any recording does', async () => {
    const packed = bomb(blank);
    expect(packed.length).toBeLessThan(mebibyte);
    expect(await read(packed)).toMatchObject({ code: 'archive-suspicious' });
  });

  test('are refused where one line goes on for all of them', async () => {
    expect(await read(bomb('7'))).toMatchObject({ code: 'line-too-long' });
  });

  /** Lines at a ratio that an honest recording might have, and what they unpack to is not known beforehand. */
  const patient = () => {
    const line = Array.from({ length: 2000 }, (_, i) => `${i};${(i * 7919) % 1000}`).join('\n');
    return gzipSync(`${line}\n`.repeat(400));
  };
  const unpack = async (limits: UnpackLimits, take: () => boolean) => {
    const path = join(folder, 'patient.txt.gz');
    writeFileSync(path, patient());
    const handle = await openFile(path, path);
    try {
      return await inflate(handle, 'patient', () => undefined, take, limits).catch((error: unknown) => error);
    } finally {
      await handle.close();
    }
  };

  test('are not followed beyond a size, however honestly they are packed', async () => {
    let taken = 0;
    const count = () => {
      taken += 1;
      return true;
    };
    expect(await unpack({ most: 1e9, look: 1e9 }, count)).toBeUndefined();
    const whole = taken;
    taken = 0;
    const refusal = await unpack({ most: 1e6, look: 1e9 }, count);
    expect(refusal).toMatchObject({ code: 'archive-suspicious' });
    expect(taken).toBeLessThan(whole / 2);
  });

  test('are given up once somebody has replaced, taken away or changed them', async () => {
    const path = join(folder, 'patient.txt.gz');
    const changes = [
      () => rmSync(path),
      () => {
        writeFileSync(join(folder, 'other'), 'x');
        renameSync(join(folder, 'other'), path);
      },
      () => appendFileSync(path, 'x'),
    ];
    for (const change of changes) {
      let taken = 0;
      const given = await unpack({ most: 1e9, look: 1e6 }, () => {
        if (taken === 0) change();
        taken += 1;
        return true;
      });
      expect(given).toMatchObject({ code: 'unreadable', what: expect.stringContaining('while it was read') });
      expect(taken).toBeLessThan(10);
    }
  });

  test('within each other are not unpacked twice', async () => {
    expect(await read(gzipSync(gzipSync(decayText())))).toMatchObject({ code: 'not-text' });
  });

  test.each([
    ['cut off', (bytes: Buffer) => bytes.subarray(0, bytes.length >> 1)],
    ['changed within', (bytes: Buffer) => Buffer.from(bytes).fill(0xff, 300, 340)],
    ['with a wrong sum', (bytes: Buffer) => Buffer.from(bytes).fill(0, bytes.length - 8, bytes.length - 4)],
    ['a header alone', (bytes: Buffer) => bytes.subarray(0, 10)],
  ])('%s are said to be damaged', async (_, damage) => {
    expect(await read(damage(gzipSync(decayText())))).toMatchObject({ code: 'unreadable' });
  });

  test('that are handed over are answered with what is wrong, first rows among it', async () => {
    for (const bytes of [bomb(blank), bomb('7'), gzipSync(gzipSync('1\n2\n'))]) {
      const answer = await server.app.request('/api/uploads?name=x.txt.gz', {
        method: 'POST',
        body: new Uint8Array(bytes),
      });
      const seen = upload.parse(await answer.json());
      expect(seen.understood).toBeNull();
      expect(seen.trouble?.mend).not.toBe('');
      expect(seen.rows.length).toBeLessThanOrEqual(20);
    }
    expect(server.logged).toEqual([]);
  });
});

describe('workbooks', () => {
  const sheet =
    '<worksheet><sheetData><row r="1"><c r="A1" t="str"><v>recording</v></c></row></sheetData></worksheet>';
  const refusal = async (bytes: Uint8Array) => (await sheetCells(bytes)) as { message?: string };

  test('that unpack to more than a sheet holds are refused, in one part and in many', async () => {
    const part = (name: string, size: number) => ({ name, content: Buffer.alloc(size, 0x20) });
    const one = zipOf([part('xl/worksheets/sheet1.xml', 30 * mebibyte)]);
    const many = zipOf(Array.from({ length: 30 }, (_, i) => part(`xl/worksheets/sheet${i}.xml`, mebibyte)));
    for (const bytes of [one, many]) {
      expect(bytes.length).toBeLessThan(mebibyte);
      expect((await refusal(bytes)).message).toContain('unpacks to more than');
    }
  });

  test('whose parts share the same packed bytes count each of them', async () => {
    const content = Buffer.alloc(2 * mebibyte, 0x20);
    const names = Array.from({ length: 40 }, (_, i) => `xl/worksheets/s${String(i).padStart(2, '0')}.xml`);
    const bytes = zipOf(names.map((name) => ({ name, content })));
    // Every entry of the directory points at the first part (as in overlapping archives; Fifield 2019).
    for (let at = bytes.indexOf('PK\x01\x02'); at >= 0; at = bytes.indexOf('PK\x01\x02', at + 4)) {
      bytes.writeUInt32LE(0, at + 42);
    }
    expect((await refusal(bytes)).message).toContain('unpacks to more than');
  });

  test('that lie about sizes, places and numbers are said to be damaged', async () => {
    const honest = zipOf([{ name: 'xl/worksheets/sheet1.xml', content: sheet }]);
    const directory = honest.indexOf('PK\x01\x02');
    const end = honest.indexOf('PK\x05\x06');
    const changed = (at: number, value: number) => {
      const bytes = Buffer.from(honest);
      bytes.writeUInt32LE(value, at);
      return bytes;
    };
    const lies = [
      zipOf([{ name: 'xl/worksheets/sheet1.xml', content: sheet, statedSize: 4_000_000 }]),
      changed(directory + 42, 0xfffffff0),
      changed(end + 16, 0xfffffff0),
      changed(end + 16, 3),
      zipOf([
        { name: 'xl/workbook.xml', content: sheet },
        { name: 'xl/workbook.xml', content: sheet },
      ]),
    ];
    for (const bytes of lies) expect((await refusal(bytes)).message).toMatch(/damaged|cannot be/);
  });

  test('with parts by the thousand, or with cells far out, are refused', async () => {
    const many = zipOf(Array.from({ length: 600 }, (_, i) => ({ name: `p${i}.xml`, content: 'x' })));
    expect((await refusal(many)).message).toContain('parts');
    const far = sheet.replace('A1', 'XFD1048576');
    expect((await refusal(zipOf([{ name: 'xl/worksheets/sheet1.xml', content: far }]))).message).toContain(
      'beyond',
    );
  });

  test('with declarations that stand for each other are refused or stay short', async () => {
    const entities = Array.from(
      { length: 9 },
      (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`,
    ).join('');
    const laughing = `<!DOCTYPE x [<!ENTITY e0 "ha">${entities}]>${sheet.replace('recording', '&e9;')}`;
    const bytes = zipOf([
      { name: 'xl/worksheets/sheet1.xml', content: laughing },
      {
        name: 'xl/workbook.xml',
        content: '<workbook><sheets><sheet name="a" sheetId="1" r:id="r1"/></sheets></workbook>',
      },
      {
        name: 'xl/_rels/workbook.xml.rels',
        content:
          '<Relationships><Relationship Id="r1" Type="t/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
      },
    ]);
    expect(JSON.stringify(await sheetCells(bytes)).length).toBeLessThan(10_000);
  });
});
