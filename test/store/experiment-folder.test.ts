import { execFileSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { experimentJsonSchema, experimentTemplate } from '../../src/experiment/index.ts';
import {
  ExperimentFileError,
  NewFolderError,
  newExperimentFolder,
  readExperiment,
  readExperimentFile,
  recordingPaths,
} from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-store-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let count = 0;
function folder(content?: string | Buffer): string {
  count += 1;
  const path = join(root, `f${count}`);
  mkdirSync(path);
  if (content !== undefined) writeFileSync(join(path, 'experiment.yaml'), content);
  return path;
}

async function faultOf(path: string): Promise<ExperimentFileError> {
  return readExperiment(path).then(
    () => Promise.reject(new Error('the file was read')),
    (error: unknown) => (error instanceof ExperimentFileError ? error : Promise.reject(error)),
  );
}

describe('an experiment folder', () => {
  test('is read with the lines of its file', async () => {
    const { experiment, lineOf } = await readExperimentFile(
      folder('course: a\nbodies:\n  b:\n    limit: 90 degC\n'),
    );
    expect(experiment.bodies['b']?.limit).toBe(90);
    expect(lineOf(['bodies', 'b', 'limit'])).toBe(4);
    expect(lineOf(['bodies', 'b', 'mass'])).toBe(3);
    expect(lineOf(['nozzle'])).toBe(1);
  });

  test('may begin with a byte order mark and end lines as it likes', async () => {
    const path = folder(Buffer.from('\ufeffcourse: a\r\nmains: 60 Hz\r\n'));
    expect((await readExperiment(path)).mains).toBe(60);
  });

  test('that has no file, or a folder or rubbish in its place, is an error with path, line and mend', async () => {
    expect((await faultOf(folder())).message).toMatch(
      /experiment\.yaml, line 1: .*no such file.*name the folder/,
    );
    const nested = folder();
    mkdirSync(join(nested, 'experiment.yaml'));
    expect((await faultOf(nested)).message).toContain('is not a file');
    expect((await faultOf(folder(Buffer.from([0xff, 0xfe, 0x63, 0x00])))).message).toContain(
      'save it as UTF-8',
    );
    expect((await faultOf(folder(Buffer.alloc((1 << 20) + 1, 0x20)))).message).toContain('larger than 1 MiB');
    expect((await faultOf(join(root, 'x'.repeat(5000)))).message).toContain('too long');
  });

  test.skipIf(process.platform === 'win32')('does not wait for a pipe that nobody writes to', async () => {
    const path = folder();
    const makePipe = 'mkfifo';
    execFileSync(makePipe, [join(path, 'experiment.yaml')]);
    expect((await faultOf(path)).message).toContain('is not a file');
  });

  test('lists every fault, each on a line of its own', async () => {
    const error = await faultOf(folder('mains: 100 Hz\nbodies: { a: { limit: 3 } }\n'));
    const lines = error.message.split('\n');
    expect(lines).toHaveLength(2);
    expect(lines[0]).toMatch(/experiment\.yaml, line 1: mains: must be 50 Hz or 60 Hz$/);
    expect(lines[1]).toMatch(/experiment\.yaml, line 2: bodies › a › limit: "3" has no unit/);
    expect(error.faults.map(({ line }) => line)).toEqual([1, 2]);
  });
});

describe('a new experiment folder', () => {
  test('holds the example and its schema, also several folders deep', async () => {
    const path = join(root, 'deep', 'er', 'new');
    await newExperimentFolder(path);
    expect(readdirSync(path).sort()).toEqual(['experiment.schema.json', 'experiment.yaml']);
    expect(readFileSync(join(path, 'experiment.yaml'), 'utf8')).toBe(experimentTemplate);
    expect(readFileSync(join(path, 'experiment.schema.json'), 'utf8')).toBe(experimentJsonSchema());
  });

  test('is not made over an experiment, nor over a link to nowhere', async () => {
    const path = folder('course: mine\n');
    await expect(newExperimentFolder(path)).rejects.toThrow(NewFolderError);
    await expect(newExperimentFolder(path)).rejects.toThrow(/is there already.*take another folder/);
    expect(readdirSync(path)).toEqual(['experiment.yaml']);
    expect(readFileSync(join(path, 'experiment.yaml'), 'utf8')).toBe('course: mine\n');
    const linked = folder();
    symlinkSync(join(root, 'nowhere'), join(linked, 'experiment.yaml'));
    await expect(newExperimentFolder(linked)).rejects.toThrow(/is there already/);
    expect(readdirSync(root)).not.toContain('nowhere');
  });

  test('leaves a schema that is there as it is', async () => {
    const path = folder();
    writeFileSync(join(path, 'experiment.schema.json'), '{}');
    expect((await newExperimentFolder(path)).schemaKept).toBe(true);
    expect(readFileSync(join(path, 'experiment.schema.json'), 'utf8')).toBe('{}');
  });

  test('cannot be made below a file, and says so', async () => {
    const path = folder('');
    await expect(newExperimentFolder(join(path, 'experiment.yaml', 'x'))).rejects.toThrow(/cannot be made/);
  });
});

describe('the recordings of a folder', () => {
  test('are found by their endings, in order, without links and hidden names', async () => {
    const path = folder();
    mkdirSync(join(path, 'recordings', 'B', 'deep'), { recursive: true });
    mkdirSync(join(path, 'recordings', '.git'), { recursive: true });
    for (const name of ['B/b.csv', 'B/deep/a.txt.gz', 'a.TXT', 'notes.md', '.hidden.txt', '.git/c.txt']) {
      writeFileSync(join(path, 'recordings', name), '');
    }
    symlinkSync(path, join(path, 'recordings', 'loop'));
    expect(await recordingPaths(path, 'recordings')).toEqual({
      paths: ['recordings/B/b.csv', 'recordings/B/deep/a.txt.gz', 'recordings/a.TXT'],
      folders: ['recordings', 'recordings/B', 'recordings/B/deep'],
      cut: false,
      elsewhere: false,
    });
    expect(await recordingPaths(path, 'elsewhere')).toEqual({
      paths: [],
      folders: ['elsewhere'],
      cut: false,
      elsewhere: false,
    });
  });
});
