import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { changeView, experimentView, problem } from '../../src/server/contract/index.ts';
import { textHash } from '../../src/store/index.ts';
import { experimentText, testServer } from './app.ts';

let server: Awaited<ReturnType<typeof testServer>>;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.remove());

const view = async (response: Response) => experimentView.parse(await response.json());
const onDisk = () => readFile(join(server.folder, 'experiment.yaml'), 'utf8');

it('gives the text of the file, its hash and what to look at', async () => {
  const read = await view(await server.app.request('/api/experiment'));
  expect(read).toMatchObject({ text: experimentText, hash: textHash(experimentText), faults: [] });
  expect(read.folder).toMatch(/^emberline-server-/);
  expect(read.cautions.length).toBeGreaterThan(0);
});

it('gives the faults with their lines where the file does not fit', async () => {
  await writeFile(join(server.folder, 'experiment.yaml'), experimentText.replace('20 mm', '<b>20</b>'));
  const read = await view(await server.app.request('/api/experiment'));
  expect(read.faults).toMatchObject([{ line: 4 }]);
});

it('changes one value and leaves comments, order and spaces alone', async () => {
  const answer = await server.json('POST', '/api/experiment/change', {
    hash: textHash(experimentText),
    changes: [
      { place: ['bodies', 'brass-12', 'diameter'], value: '13 mm' },
      { place: ['flows', '240'], value: '240 L/min' },
      { place: ['flows', '60'], value: null },
      { place: ['session', 'length'], value: '100 min' },
    ],
  });
  const changed = changeView.parse(await answer.json());
  expect(changed.faults).toEqual([]);
  expect(
    changed.difference.filter(({ kind }) => kind !== 'same').map(({ kind, text }) => [kind, text]),
  ).toEqual([
    ['gone', '  brass-12: { diameter: 12 mm, material: brass }   # turned'],
    ['new', '  brass-12: { diameter: 13 mm, material: brass }   # turned'],
    ['gone', '  60: 60 L/min'],
    ['new', '  240: 240 L/min'],
    ['new', 'session: { length: 100 min }'],
  ]);
  expect(await onDisk()).toBe(experimentText);
});

it('keeps a text that was made from the one that is there', async () => {
  const text = experimentText.replace('12 mm', '13 mm');
  const kept = await server.json('PUT', '/api/experiment', { hash: textHash(experimentText), text });
  expect((await view(kept)).hash).toBe(textHash(text));
  expect(await onDisk()).toBe(text);
  const late = await server.json('PUT', '/api/experiment', {
    hash: textHash(experimentText),
    text: experimentText,
  });
  expect(late.status).toBe(409);
  expect(await onDisk()).toBe(text);
});

it('lets one of two saves at the same time through', async () => {
  const save = (size: number) => {
    const text = experimentText.replace('12 mm', `${size} mm`);
    return server.json('PUT', '/api/experiment', { hash: textHash(experimentText), text });
  };
  const answers = await Promise.all([save(13), save(14)]);
  expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
});

it('keeps no text that does not fit, such as one of aliases of aliases', async () => {
  const lines = ['a0: &a0 [x, x, x, x, x, x, x, x, x]'];
  for (let n = 1; n < 30; n++)
    lines.push(
      `a${n}: &a${n} [${Array(9)
        .fill(`*a${n - 1}`)
        .join(', ')}]`,
    );
  for (const text of [lines.join('\n'), '[['.repeat(50_000), 'bodies: {', '__proto__: { a: 1 }\n']) {
    const answer = await server.json('PUT', '/api/experiment', { hash: textHash(experimentText), text });
    expect(answer.status).toBe(422);
    expect(problem.parse(await answer.json()).faults?.length).toBeGreaterThan(0);
  }
  expect(await onDisk()).toBe(experimentText);
});
