import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { jsonErrorFields, jsonFields } from '../../scripts/docs/json-fields.ts';
import { runCommand } from '../cli/run.ts';

const course = 'demo/thornwick';
const group = `${course}/recordings/A/A1`;

/** Paths of all values that are no lists or objects, and of those that hold nothing. */
function pathsIn(value: unknown, path = ''): string[] {
  if (Array.isArray(value)) return value.flatMap((one: unknown) => pathsIn(one, `${path}[]`));
  if (typeof value !== 'object' || value === null) return [path];
  return Object.entries(value).flatMap(([key, below]) =>
    pathsIn(below, path === '' ? key : `${path}.${key}`),
  );
}

/** What may be null as a whole stands in a result under its own path. */
function undescribed(paths: readonly string[], described: readonly string[]): string[] {
  const known = new Set(described);
  return [...new Set(paths)].filter((path) => {
    return (
      !known.has(path) && !described.some((one) => one.startsWith(`${path}.`) || one.startsWith(`${path}[`))
    );
  });
}

test('analyze --json prints what the page of results describes, and nothing else', async () => {
  const recordings = readdirSync(group).map((name) => `${group}/${name}`);
  const { stdout } = await runCommand(['analyze', ...recordings, '--experiment', course, '--json']);
  const results = stdout
    .trim()
    .split('\n')
    .map((line): unknown => JSON.parse(line));
  expect(results.length).toBe(recordings.length);
  const described = jsonFields.map(({ path }) => path);
  expect(new Set(described).size).toBe(described.length);
  const paths = results.flatMap((result) => pathsIn(result));
  expect(undescribed(paths, described)).toEqual([]);
  const always = described.filter((path) =>
    /^(recording\.(?!dialect)|segments\.|timeConstant\.|budget)/.test(path),
  );
  expect(always.filter((path) => !paths.includes(path))).toEqual([]);
});

test('a recording that cannot be analyzed prints what is described for it', async () => {
  const { stdout, status } = await runCommand(['analyze', 'README.md', '--json']);
  expect(status).toBe(2);
  expect(pathsIn(JSON.parse(stdout)).sort()).toEqual(jsonErrorFields.map(({ path }) => path).sort());
});
