import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type FolderAnalysis, openAnalysis } from '../../src/analysis/index.ts';
import { callerAs } from '../../src/server/access/caller.ts';
import { type MineNow, mineNow, problem } from '../../src/server/contract/index.ts';
import { folderMine } from '../../src/server/mine.ts';
import { folderSubmissions } from '../../src/server/submissions.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { testServer } from './app.ts';

/** Two groups that share a bench, as sections do. */
const text = `bodies:
  brass-12: { diameter: 12 mm, material: brass }
flows:
  60: 60 L/min
benches: [b1]
groups:
  g1: { bench: b1 }
  g2: { bench: b1 }
recordings: "recordings/{group}/{bench}/{body}_{flow}-{repeat}"
`;
const path = 'recordings/g1/b1/brass-12_60-1.txt';

let analysis: FolderAnalysis;
let server: Awaited<ReturnType<typeof testServer>>;
let group = 'g1';
beforeAll(async () => {
  // The folder is made by the server; what the group sees of it is put in afterwards.
  const made = await testServer({ text });
  analysis = await openAnalysis(made.folder);
  const submissions = folderSubmissions(analysis, () => 0);
  server = await testServer({
    text,
    folder: made.folder,
    submissions,
    mine: folderMine(analysis, submissions, async () => false),
    identity: { callerOf: async () => callerAs('group', group) },
  });
  await made.floor.close();
  const file = join(made.folder, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, trialPieces().slice(0, 62).join(''));
});
afterAll(async () => {
  await analysis.close();
  await server.remove();
});

async function* nowsOf(answer: Response): AsyncGenerator<MineNow> {
  let said = '';
  const decoder = new TextDecoder();
  const reader = answer.body?.getReader();
  try {
    for (;;) {
      const piece = await reader?.read();
      if (piece?.value === undefined) return;
      said += decoder.decode(piece.value, { stream: true });
      for (let at = said.indexOf('\n\n'); at >= 0; at = said.indexOf('\n\n')) {
        const data = /^event: now\ndata: (.*)$/.exec(said.slice(0, at))?.[1];
        said = said.slice(at + 2);
        if (data !== undefined) yield mineNow.parse(JSON.parse(data));
      }
    }
  } finally {
    await reader?.cancel();
  }
}

test('a group watches its own trial, without a time constant', async () => {
  group = 'g1';
  const events = nowsOf(await server.app.request('/api/mine/events'));
  for await (const now of events) {
    if (now.trial === null) continue;
    expect(now).toMatchObject({ condition: { body: 'brass-12', flow: '60' }, repeat: 1, trouble: null });
    expect(now.trial.advice.message).not.toBe('');
    expect(now.trial.gates.length).toBeGreaterThan(3);
    expect(JSON.stringify(now)).not.toContain('timeConstant');
    break;
  }
});

test('another group on the same bench sees nothing of it', async () => {
  group = 'g2';
  const now = mineNow.parse(await (await server.app.request('/api/mine/now')).json());
  expect(now).toMatchObject({ condition: null, repeat: null, trial: null, trouble: null, quiet: null });
  expect(JSON.stringify(now)).not.toMatch(/g1|brass/);
});

test('one group does not take the places of all others who listen', async () => {
  group = 'g2';
  const open: Response[] = [];
  for (let i = 0; i < 8; i++) open.push(await server.app.request('/api/mine/events'));
  const refused = await server.app.request('/api/mine/events');
  expect(refused.status).toBe(429);
  expect(problem.parse(await refused.json()).mend).toBe('Close some of them.');
  await open[0]?.body?.cancel();
  const again = await server.app.request('/api/mine/events');
  expect(again.status).toBe(200);
  for (const one of [...open.slice(1), again]) await one.body?.cancel();
});

test('a group that the experiment file does not list is told so', async () => {
  group = 'g9';
  const answer = await server.app.request('/api/mine');
  expect(answer.status).toBe(404);
  expect(problem.parse(await answer.json()).mend).toBe('Tell those who run the session.');
});
