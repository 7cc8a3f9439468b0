import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { oldestNode, unfitNode } from '../../src/cli/node-version.ts';

const manifest = z
  .object({ engines: z.object({ node: z.string() }), dependencies: z.record(z.string(), z.string()) })
  .parse(JSON.parse(readFileSync('package.json', 'utf8')));

const bundles = readdirSync('dist')
  .filter((name) => name.endsWith('.js'))
  .map((name) => join('dist', name));

/** Packages and built-in modules that a text imports, without what stands behind the name of a package. */
function importedIn(text: string, pattern: RegExp): string[] {
  return [...text.matchAll(pattern)].map((found) => {
    const name = found.slice(1).find((one) => one !== undefined) ?? '';
    return name
      .split('/')
      .slice(0, name.startsWith('@') ? 2 : 1)
      .join('/');
  });
}

describe('the packed package', () => {
  const list = execFileSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  // Newer npm gives an object by package name, older npm a list.
  const packed = z.object({ files: z.array(z.object({ path: z.string() })) });
  const answer = z.union([z.array(packed), z.record(z.string(), packed)]).parse(JSON.parse(list));
  const files = Object.values(answer).flatMap((one) => one.files.map(({ path }) => path));

  it.each([
    'package.json',
    'README.md',
    'LICENSE',
    'SECURITY.md',
    'CHANGELOG.md',
    'dist/main.js',
    'dist/index.js',
    'dist/list-worker.js',
    'dist/analyze-worker.js',
    'dist/detail-worker.js',
    'dist/download-process.js',
    'dist/types/index.d.ts',
    'dist/experiment.schema.json',
    'dist/third-party-notices.txt',
    'dist/web/index.html',
    'dist/web/room.html',
    'examples/thornwick/experiment.yaml',
    'docs/room.md',
  ])('holds %s', (path) => {
    expect(files).toContain(path);
  });

  it('holds nothing that is of use to its makers alone, and no secrets', () => {
    const stray = files.filter(
      (path) =>
        !/^(?:dist|docs|examples)\/|^[A-Z]+(?:\.md)?$|^package\.json$/.test(path) ||
        /\.(?:map|tsx?|pem|key|env|log|tgz)$/.test(path.replace(/\.d\.ts$|^examples\/api\/.*\.ts$/, '')) ||
        /(?:^|\/)(?:\.|test|node_modules)/.test(path),
    );
    expect(stray).toEqual([]);
  });

  it('holds every page of docs that a command or the README speaks of', () => {
    const texts = [...bundles, 'README.md'].map((path) => readFileSync(path, 'utf8')).join('\n');
    const named = new Set([...texts.matchAll(/\bdocs\/[a-z/-]+\.md\b/g)].map(([path]) => path));
    expect(named.size).toBeGreaterThan(5);
    expect([...named].filter((path) => !files.includes(path))).toEqual([]);
  });
});

describe('what is installed with it', () => {
  it('is all that the bundles import, and they import all of it but for types and fonts', () => {
    const imported = new Set(
      bundles.flatMap((path) =>
        importedIn(
          readFileSync(path, 'utf8'),
          /^(?:import|export)\b[^\n;]*?"([^".][^"]*)";$|\bimport\("([^".][^"]*)"\)/gm,
        ),
      ),
    );
    const outside = [...imported].filter(
      (name) => name !== '' && !name.startsWith('node:') && !builtinModules.includes(name),
    );
    expect(outside.filter((name) => manifest.dependencies[name] === undefined)).toEqual([]);
    // Fonts are read as files, and the declarations speak of the schema's types.
    const named = Object.keys(manifest.dependencies).filter((name) => !imported.has(name));
    expect(named).toEqual([
      '@expo-google-fonts/atkinson-hyperlegible-next',
      '@fontsource-variable/atkinson-hyperlegible-next',
      'zod',
    ]);
  });

  it('is all that the declarations import', () => {
    const declarations = readdirSync('dist/types', { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.d.ts'),
    );
    const imported = new Set(
      declarations.flatMap((name) =>
        importedIn(
          readFileSync(join('dist', 'types', name), 'utf8'),
          /(?:from|import)\(? ?['"]([^.'"][^'"]*)['"]/g,
        ),
      ),
    );
    const undeclared = [...imported].filter(
      (name) => !name.startsWith('node:') && manifest.dependencies[name] === undefined,
    );
    expect(declarations.length).toBeGreaterThan(100);
    expect(undeclared).toEqual([]);
  });

  it('comes without what is bundled, whose licences go with the package', () => {
    const notices = readFileSync('dist/third-party-notices.txt', 'utf8');
    for (const name of ['commander', 'hono', 'react', '@observablehq/plot', 'linkedom', 'ml-matrix', 'zod']) {
      expect(notices).toMatch(new RegExp(`^${name} \\d+\\.\\d+\\.\\d+: `, 'm'));
    }
    expect(notices).toContain('SIL OPEN FONT LICENSE');
  });
});

describe('a Node that is too old', () => {
  it('is told apart by the number that package.json promises', () => {
    expect(manifest.engines.node).toBe(`>=${oldestNode.join('.')}`);
    expect(unfitNode('20.19.0')).toBeNull();
    expect(unfitNode('24.0.0')).toBeNull();
  });

  it.each(['20.18.3', '18.20.8', '12.22.12'])('hears in one sentence what is needed: %s', (running) => {
    expect(unfitNode(running)).toBe(
      `emberline: this needs Node 20.19 or later, and here it runs on Node ${running}: install a newer Node and give the command again.`,
    );
  });

  it('hears it before anything else is loaded', () => {
    const entry = readFileSync('dist/main.js', 'utf8');
    expect(entry).not.toMatch(/^\s*import\s*(?:[\w{*]|")/m);
    // Syntax later than that of Node 12, which would fail at reading: `??`, `?.`, `await` outside of functions.
    expect(entry).not.toMatch(/\?\?|\?\.|^await /m);
  });
});
