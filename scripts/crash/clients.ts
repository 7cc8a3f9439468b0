import { z } from 'zod';
import { experimentView, kept, takenSheet, upload } from '../../src/server/contract/index.ts';
import { groups, places, recordingText } from './course.ts';
import { type Ledger, sha256 } from './ledger.ts';
import type { Draw } from './random.ts';

/** A server that goes away in the middle: requests fail then, and whoever sent them does not know what became of them. */
export interface Desk {
  readonly base: () => string;
  readonly ledger: Ledger;
  readonly random: Draw;
  /** A word that nobody else has used. */
  readonly word: () => string;
}

/** A deed of a client: what it does, and what it writes into the ledger once that is acknowledged. */
export type ClientDeed = (desk: Desk) => Promise<'done' | 'refused'>;

const pick = <T>({ random }: Desk, list: readonly T[]): T | undefined => {
  return list[Math.floor(random() * list.length)];
};

const json = { 'content-type': 'application/json' };

/** Null where the server refused; an answer that no server should give is written down. */
async function asked(desk: Desk, path: string, init: RequestInit): Promise<unknown> {
  const answer = await fetch(`${desk.base()}${path}`, init);
  const body: unknown = await answer.json();
  if (answer.ok) return body;
  if (answer.status >= 500) {
    desk.ledger.faults.push(`${init.method ?? 'GET'} ${path}: ${answer.status} ${JSON.stringify(body)}`);
  }
  return null;
}

const post = (desk: Desk, path: string, body: unknown) => {
  return asked(desk, path, { method: 'POST', headers: json, body: JSON.stringify(body) });
};

/** Gives a waiting file its place, the next one where that is taken. */
export async function keepWaiting(desk: Desk, id: string, hash: string): Promise<'done' | 'refused'> {
  const place = desk.random() < 0.1 ? places[0] : pick(desk, places);
  const answer = await post(desk, `/api/uploads/${id}/keep`, { place });
  if (answer === null) return 'refused';
  desk.ledger.kept.set(kept.parse(answer).path, hash);
  return 'done';
}

const sendWhole: ClientDeed = async (desk) => {
  const text = recordingText(desk.random, desk.word());
  const hash = sha256(text);
  desk.ledger.sent.add(hash);
  const waiting = await asked(desk, '/api/uploads?name=run.txt', { method: 'POST', body: text });
  return waiting === null ? 'refused' : keepWaiting(desk, upload.parse(waiting).id, hash);
};

const decide: ClientDeed = async (desk) => {
  const path = pick(
    desk,
    [...desk.ledger.kept.keys()].filter((one) => one.startsWith('recordings/')),
  );
  if (path === undefined) return 'refused';
  const who = desk.word();
  const answer = await post(desk, `/api/recordings/${path}/decisions`, {
    kind: 'reject',
    who,
    why: 'a draught',
  });
  if (answer === null) return 'refused';
  desk.ledger.decisions.set(path, [...(desk.ledger.decisions.get(path) ?? []), who]);
  return 'done';
};

const enterValues: ClientDeed = async (desk) => {
  const path = pick(
    desk,
    [...desk.ledger.kept.keys()].filter((one) => one.startsWith('recordings/')),
  );
  const group = path?.split('/')[1];
  if (path === undefined || group === undefined) return 'refused';
  const note = desk.word();
  const rows = [{ recording: path, note, values: { point: '12' } }];
  const answer = await post(desk, `/api/submissions/${group}`, { rows });
  if (answer === null) return 'refused';
  desk.ledger.values.set(note, group);
  return 'done';
};

const takeSheet: ClientDeed = async (desk) => {
  const group = pick(desk, groups) ?? '';
  const text = `recording,time constant / s\n${desk.word()},12\n`;
  const answer = await asked(desk, `/api/sheets?name=sheet.csv&group=${group}`, {
    method: 'POST',
    body: text,
  });
  if (answer === null) return 'refused';
  desk.ledger.kept.set(takenSheet.parse(answer).path, sha256(text));
  return 'done';
};

/** Only one client does so at a time: what was under way when the server went may have been written. */
const saveExperiment: ClientDeed = async (desk) => {
  const { ledger } = desk;
  const answer = await asked(desk, '/api/experiment', {});
  const view = experimentView.parse(answer);
  if (view.text !== ledger.experiment && view.text !== ledger.underWay) {
    ledger.faults.push('the experiment file is neither what was acknowledged last nor what was under way');
  }
  ledger.experiment = view.text;
  const text = view.text.replace(/^# saved .*\n|^/, `# saved ${desk.word()}\n`);
  ledger.underWay = text;
  const saved = await asked(desk, '/api/experiment', {
    method: 'PUT',
    headers: json,
    body: JSON.stringify({ hash: view.hash, text }),
  });
  if (saved === null) return 'refused';
  ledger.experiment = text;
  ledger.underWay = null;
  return 'done';
};

const checkRig: ClientDeed = async (desk) => {
  const who = desk.word();
  const check = { kind: 'diameter', subject: 'brass-12', bench: null, value: '12.0 mm', who, note: '' };
  if ((await post(desk, '/api/rig/checks', check)) === null) return 'refused';
  desk.ledger.checks.add(who);
  return 'done';
};

const release: ClientDeed = async (desk) => {
  const who = desk.word();
  const released = desk.random() < 0.5;
  if ((await post(desk, '/api/releases', { section: 'A', released, who })) === null) return 'refused';
  desk.ledger.releases.add(who);
  return 'done';
};

/** What clients do side by side, each one deed after the other. */
export const clients: readonly (readonly [name: string, deed: ClientDeed])[] = [
  ['recordings sent whole', sendWhole],
  ['recordings sent whole', sendWhole],
  ['decisions', decide],
  ['values entered', enterValues],
  ['sheets taken', takeSheet],
  ['experiment file saved', saveExperiment],
  ['checks of a rig', checkRig],
  ['releases', release],
];

const codeSchema = z.object({ code: z.string() });

/** Whether a request failed because the server was gone, which is what is tried here. */
export function isBroken(error: unknown): boolean {
  if (!(error instanceof TypeError) && !(error instanceof SyntaxError)) return false;
  const cause = codeSchema.safeParse(error.cause);
  return error instanceof SyntaxError || error.message === 'terminated' || cause.success;
}
