import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { dependenciesPage, dependenciesPath, licenceOf, lock } from '../../scripts/docs/dependencies.ts';
import { knownDependencies } from '../../scripts/docs/dependency-table.ts';

const named = z.record(z.string(), z.string());
const manifest = z
  .object({ dependencies: named, devDependencies: named })
  .parse(JSON.parse(readFileSync('package.json', 'utf8')));

const namesOf = (...places: readonly string[]) =>
  knownDependencies.filter(({ place }) => places.includes(place)).map(({ name }) => name);

describe('the page of dependencies', () => {
  test('is as the lock and what is installed have it; else run npm run docs', () => {
    const kept = readFileSync(dependenciesPath, 'utf8').replaceAll('\r\n', '\n');
    expect(kept).toBe(dependenciesPage());
  });

  test('has every direct dependency once, with a reason', () => {
    expect(namesOf('installed').sort()).toEqual(Object.keys(manifest.dependencies).sort());
    expect(namesOf('bundled', 'page', 'tool').sort()).toEqual(Object.keys(manifest.devDependencies).sort());
  });

  test('says of those libraries that they are bundled whose licences go with the bundle', () => {
    const notices = readFileSync('dist/third-party-notices.txt', 'utf8');
    const isBundled = (name: string) =>
      notices.includes(`\n${name} ${lock[`node_modules/${name}`]?.version}: `);
    expect(namesOf('bundled', 'page').filter((name) => !isBundled(name))).toEqual([]);
    expect(namesOf('tool').filter(isBundled)).toEqual([]);
  });
});

describe('every package of the lock', () => {
  const packages = Object.keys(lock).filter((folder) => folder !== '');

  test('is installed without a script of its own', () => {
    expect(packages.length).toBeGreaterThan(100);
    expect(packages.filter((folder) => lock[folder]?.hasInstallScript === true)).toEqual([]);
  });

  test('is under a licence that lets it be passed on', () => {
    const free =
      /^\(?(?:0BSD|Apache-2\.0|BlueOak-1\.0\.0|BSD-[23]-Clause|BSL-1\.0|CC0-1\.0|CC-BY-[34]\.0|ISC|MIT(?:-0)?|MPL-2\.0|OFL-1\.1|Python-2\.0|Unlicense|WTFPL)\)?$/;
    const others = packages.filter(
      (folder) =>
        !licenceOf(folder)
          .split(/ (?:AND|OR) /)
          .every((one) => free.test(one)),
    );
    expect(others.map((folder) => `${folder}: ${licenceOf(folder)}`)).toEqual([]);
  });
});
