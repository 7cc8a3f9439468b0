import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { experimentSchema, parseChecked } from '../../src/experiment/index.ts';
import { readNames } from '../../src/export/index.ts';
import { cellsOfText } from '../../src/marking/index.ts';
import { testServer } from '../server/app.ts';

/** Names that every object inherits, or that change what it inherits. */
const words = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  '__defineGetter__',
  'valueOf',
];
const inherited = words.filter((word) => word in {});

let server: Awaited<ReturnType<typeof testServer>>;
beforeAll(async () => {
  server = await testServer();
});
afterAll(async () => {
  await server.remove();
});

const parsed = (text: string) => parseChecked(text, experimentSchema);
const clean = () => {
  expect(Object.keys(Object.prototype)).toEqual([]);
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
};

describe('YAML', () => {
  test.each(inherited)('the code %s is refused for bodies, flows, groups, sections and benches', (word) => {
    for (const text of [
      `bodies: { ${word}: {} }`,
      `flows: { ${word}: still }`,
      `groups: { ${word}: {} }`,
      `sections: [${word}]`,
      `benches: [${word}]`,
    ]) {
      expect(parsed(text).ok, text).toBe(false);
    }
    clean();
  });

  test.each(words)('%s as a key of the file, or of what stands in it, changes nothing', (word) => {
    for (const text of [
      `${word}: { polluted: 1 }`,
      `bodies: { a: { ${word}: { polluted: 1 } } }`,
      `protocol: { ${word}: 1 }`,
      `"${word}": { "${word}": { polluted: 1 } }`,
    ]) {
      expect(parsed(text).ok, text).toBe(false);
    }
    clean();
  });

  test('merge keys bring nothing in', () => {
    expect(parsed('a: &a { __proto__: { polluted: 1 } }\nbodies: { <<: *a }').ok).toBe(false);
    clean();
  });

  test('aliases that stand for each other are refused before they are written out', () => {
    const levels = Array.from(
      { length: 30 },
      (_, i) => `k${i + 1}: &a${i + 1} [${`*a${i}, `.repeat(9)}*a${i}]`,
    );
    const found = parsed(`k0: &a0 [x]\n${levels.join('\n')}`);
    expect(found.ok).toBe(false);
    if (!found.ok) expect(found.faults[0]?.message).toContain('aliases');
  });

  test('keys that stand twice are refused, in the ways of writing them', () => {
    for (const text of ['course: a\ncourse: b', 'course: a\n"course": b', "{ course: a, 'course': b }"]) {
      expect(parsed(text).ok, text).toBe(false);
    }
  });
});

describe('JSON', () => {
  const hash = '0'.repeat(64);
  test.each(words)('%s in a body changes nothing', async (word) => {
    const bodies = [
      [
        '/api/experiment/change',
        `{"${word}":{"polluted":1},"hash":"${hash}","changes":[{"place":["${word}","polluted"],"value":"1"}]}`,
      ],
      [
        `/api/uploads/${'0'.repeat(32)}/keep`,
        `{"place":{"${word}":{"polluted":1},"body":"${word}","flow":"${word}","group":"${word}"}}`,
      ],
      [`/api/submissions/${word}`, `{"rows":[{"recording":"a","note":"","values":{"${word}":"1"}}]}`],
      [
        '/api/rig/checks',
        `{"kind":"${word}","value":"1","bench":"${word}","subject":"${word}","who":"a","note":""}`,
      ],
    ] as const;
    for (const [address, body] of bodies) {
      const { status } = await server.json('POST', address, body);
      // Nobody has put submissions under this server: asking for them at all is its fault, and says that the body passed.
      expect(status === 500 ? address : status, address).toSatisfy(
        (found) => found === `/api/submissions/${word}` || (Number(found) >= 400 && Number(found) < 500),
      );
    }
    clean();
  });

  test('nested without end is refused, not followed', async () => {
    for (const body of [
      '['.repeat(2_000_000),
      `${'['.repeat(500_000)}${']'.repeat(500_000)}`,
      '{"a":'.repeat(500_000),
    ]) {
      expect((await server.json('PUT', '/api/experiment', body)).status).toBe(400);
    }
  });
});

describe('queries', () => {
  test.each(words)('%s in a query names nothing', async (word) => {
    for (const query of [`${word}=1`, `${word}[polluted]=1`, `group=${word}`, `group[${word}]=1`]) {
      const { status } = await server.app.request(`/api/compare?${query}`);
      expect([200, 400]).toContain(status);
    }
    clean();
  });
});

test('columns and codes of such names are texts like any other', () => {
  for (const word of words) {
    expect(cellsOfText(Buffer.from(`${word},point\n${word},1\n`))).toMatchObject({
      rows: [{ cells: [word, 'point'] }, {}],
    });
    expect(readNames(`${word},Ada`).get(word)).toBe('Ada');
  }
  clean();
});
