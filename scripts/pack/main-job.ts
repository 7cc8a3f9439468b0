import { mkdir, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { freePort, startServer } from '../crash/server-process.ts';
import type { Installed } from './install.ts';
import { type NodeBinary, said } from './nodes.ts';
import { type Ended, mustRun } from './process.ts';

/** What was tried, and what came of it; null where it did what it should. */
export interface Tried {
  readonly what: string;
  readonly seconds: number;
  readonly fault: string | null;
}

/** Answers to what a person does first, and what they must hold. */
interface Step {
  readonly what: string;
  readonly words: readonly string[];
  /** Exit statuses that are right; 1 is what a check says that has something to remark. */
  readonly statuses: readonly number[];
  /** Stands in what is printed. */
  readonly prints: RegExp;
}

/** A small set of simulated recordings: one group, one trial of each condition. */
const smallSet = ['--groups', '1', '--repeats', '1', '--rate', '100 Hz', '--seed', 'pack'];

/**
 * Does the main job with the installed command, from an empty folder to a document: a course, its check and prediction,
 * practice recordings, the analysis of one with its figure, a document, a question, the page, and the library.
 */
export async function mainJob(node: NodeBinary, { folder, main }: Installed): Promise<readonly Tried[]> {
  const work = join(folder, `work-${node.version}`);
  await mkdir(work);
  const tried: Tried[] = [];
  const run = async ({ what, words, statuses, prints }: Step) => {
    tried.push(judged(what, await said(node, work, main, words), statuses, prints));
  };
  for (const step of first) await run(step);
  const recording = await firstRecording(join(work, 'made'));
  for (const step of withRecording(recording)) await run(step);
  tried.push(await servedPage(node, main, join(work, 'made')));
  tried.push(await library(node, work, join('made', recording)));
  return tried;
}

const first: readonly Step[] = [
  { what: '--help', words: ['--help'], statuses: [0], prints: /analyze/ },
  { what: 'new', words: ['new', 'course'], statuses: [0], prints: /course/ },
  { what: 'check', words: ['check', 'course'], statuses: [0, 1], prints: /brass/ },
  { what: 'predict', words: ['predict', 'course'], statuses: [0, 1], prints: /±/ },
  {
    what: 'practice',
    words: ['practice', 'course', ...smallSet, '--out', 'made', '--key', 'key.json'],
    statuses: [0],
    prints: /made/,
  },
];

function withRecording(recording: string): readonly Step[] {
  const path = join('made', recording);
  return [
    {
      what: 'analyze',
      words: ['analyze', path, '--experiment', 'made', '--figure', 'trace.png'],
      statuses: [0, 1],
      prints: /time constant/i,
    },
    {
      what: 'report (PDF)',
      words: ['report', 'made', '--trial', path, '--to', 'trial.pdf'],
      statuses: [0],
      prints: /trial\.pdf/,
    },
    {
      what: 'report (HTML)',
      words: ['report', 'made', '--group', 'A1', '--html', '--to', 'group.html'],
      statuses: [0],
      prints: /group\.html/,
    },
    {
      what: 'export (xlsx)',
      words: ['export', 'made', '--to', 'results.xlsx'],
      statuses: [0],
      prints: /results\.xlsx/,
    },
    {
      what: 'query',
      words: ['query', 'made', 'SELECT count(*) AS n FROM trials', '--format', 'csv'],
      statuses: [0],
      prints: /\d/,
    },
  ];
}

/** Holds how a command ended against what it should have done. */
export function judged(what: string, ended: Ended, statuses: readonly number[], prints: RegExp): Tried {
  const { status, stdout, stderr, seconds } = ended;
  const text = `${stdout}${stderr}`;
  if (status === null || !statuses.includes(status)) {
    return { what, seconds, fault: `ended with ${status}: ${text.slice(-600)}` };
  }
  if (!prints.test(text)) return { what, seconds, fault: `does not print ${prints}: ${text.slice(-600)}` };
  return { what, seconds, fault: null };
}

async function firstRecording(folder: string): Promise<string> {
  const names = await readdir(join(folder, 'recordings'), { recursive: true });
  const name = names.sort().find((one) => /\.(txt|csv|dat)$/.test(one));
  if (name === undefined) throw new Error(`practice made no recording in ${folder}`);
  return join('recordings', name);
}

/** Opens the page of the folder, and asks for it. */
async function servedPage(node: NodeBinary, main: string, folder: string): Promise<Tried> {
  const what = 'serve';
  const began = performance.now();
  const took = () => (performance.now() - began) / 1000;
  try {
    const server = await startServer(folder, await freePort(), null, { node: node.path, main });
    if (server === 'killed') return { what, seconds: took(), fault: 'it was killed' };
    const answer = await fetch(server.base);
    const page = await answer.text();
    await server.kill();
    const whole = answer.ok && page.includes('<script');
    return {
      what,
      seconds: took(),
      fault: whole ? null : `answered ${answer.status}: ${page.slice(0, 300)}`,
    };
  } catch (error) {
    return { what, seconds: took(), fault: String(error) };
  }
}

/** Calls the library from a file beside the recordings, as a program of somebody would. */
async function library(node: NodeBinary, work: string, recording: string): Promise<Tried> {
  const what = "import 'emberline'";
  const program = `
import { analyzeDecay, readRecordingFile, toTrace } from 'emberline';
const recording = await readRecordingFile(${JSON.stringify(recording)});
const chain = { kind: 'thermocouple', type: 'T', junction: { kind: 'ice' }, gain: 200, zero: 1.3e-3 };
const { timeConstant } = analyzeDecay(toTrace(recording, chain));
console.log(timeConstant.value.toFixed(1), 's');
`;
  await writeFile(join(work, 'own.mjs'), program);
  try {
    const { seconds, stdout } = await mustRun(work, node.path, ['own.mjs']);
    return { what, seconds, fault: /^\d+\.\d s$/.test(stdout.trim()) ? null : `printed ${stdout}` };
  } catch (error) {
    return { what, seconds: 0, fault: error instanceof Error ? error.message : String(error) };
  }
}
