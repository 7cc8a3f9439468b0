import { readdirSync, readFileSync } from 'node:fs';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { remarkCatalogue, type Severity } from '../../src/remark/index.ts';

/** A remark as the source writes it: its code, and the severities that stand where it is made. */
interface Written {
  readonly file: string;
  readonly code: string;
  readonly severities: readonly string[];
}

const severities: readonly string[] = ['note', 'caution', 'repeat'] satisfies Severity[];

function literals(node: ts.Node): string[] {
  const own = ts.isStringLiteral(node) ? [node.text] : [];
  const below: string[] = [];
  ts.forEachChild(node, (child) => {
    below.push(...literals(child));
  });
  return [...own, ...below];
}

function property(node: ts.ObjectLiteralExpression, name: string): ts.Expression | null {
  for (const one of node.properties) {
    if (ts.isPropertyAssignment(one) && one.name.getText() === name) return one.initializer;
  }
  return null;
}

/** Objects with a code and a severity, and calls that begin with both. */
function writtenIn(file: string): Written[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.ES2023, true);
  const found: Written[] = [];
  const take = (code: ts.Expression | null | undefined, severity: ts.Expression | null | undefined) => {
    if (!code || !severity) return;
    const codes = literals(code).filter((text) => Object.hasOwn(remarkCatalogue, text));
    // A condition inside, such as === 'outside', holds other words too.
    const said = literals(severity).filter((text) => severities.includes(text));
    for (const one of codes) found.push({ file, code: one, severities: said });
  };
  const walk = (node: ts.Node): void => {
    if (ts.isObjectLiteralExpression(node)) take(property(node, 'code'), property(node, 'severity'));
    if (ts.isCallExpression(node)) take(node.arguments[0], node.arguments[1]);
    ts.forEachChild(node, walk);
  };
  walk(source);
  return found;
}

test('the catalogue names every severity with which the source makes a remark', () => {
  const files = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.ts'),
  );
  const written = files.flatMap((name) => writtenIn(`src/${name}`));
  expect(written.length).toBeGreaterThan(40);
  const catalogue: Readonly<Record<string, { readonly severities: readonly string[] }>> = remarkCatalogue;
  const unnamed = written.flatMap(({ file, code, severities: said }) =>
    said.filter((one) => !catalogue[code]?.severities.includes(one)).map((one) => `${file}: ${code} ${one}`),
  );
  expect(unnamed).toEqual([]);
});

test('every code says what it means and what to do in whole sentences', () => {
  for (const { meaning, mend } of Object.values(remarkCatalogue)) {
    expect(meaning).toMatch(/^[A-Z].*\.$/);
    expect(mend).toMatch(/^[A-Z].*\.$/);
  }
});
