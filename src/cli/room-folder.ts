import {
  type CodeHolder,
  openRoomAccess,
  openTrail,
  type RoomAccess,
  readExperiment,
  readPassphrase,
  renewCode,
  setPassphrase,
  shownCode,
} from '../store/index.ts';
import { askPassphrase } from './ask-passphrase.ts';
import type { RoomCommandOptions } from './room-command.ts';
import { type ExitStatus, printable, type Surroundings } from './terminal.ts';

/**
 * The command `room`.
 *
 * @throws Error where nobody has such a code; ExperimentFileError; StoreError
 */
export async function roomFolder(
  folder: string,
  options: RoomCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { stdout } = surroundings;
  const { groups } = await readExperiment(folder);
  const trail = openTrail(folder, { now: () => Date.now() });
  const made = async (note: string) => {
    const who = { role: 'command line', group: null, label: '' };
    await trail.write({ who, deed: 'codes-made', note });
  };
  const holders = (options.newCode ?? []).map((who) => holderOf(who, Object.keys(groups)));
  let access = await openRoomAccess(folder, Object.keys(groups));
  for (const holder of holders) {
    access = await renewCode(folder, holder);
    await made(typeof holder === 'string' ? `for ${holder}` : `for group ${holder.group}`);
  }
  const passphrase = await passphraseFrom(options, surroundings);
  if (passphrase !== null) {
    access = await setPassphrase(folder, passphrase);
    await made('passphrase of the instructor');
  }
  const rows = rowsOf(access, groups);
  stdout.write(options.json === true ? `${JSON.stringify(Object.fromEntries(rows), null, 2)}\n` : text(rows));
  return 0;
}

function holderOf(who: string, groups: readonly string[]): CodeHolder {
  if (groups.includes(who)) return { group: who };
  if (who === 'assistant' || who === 'display') return who;
  throw new Error(`${who}: is no group of the experiment, nor assistant or display; nothing was made`);
}

async function passphraseFrom(
  { passphrase, passphraseFile }: RoomCommandOptions,
  surroundings: Surroundings,
): Promise<string | null> {
  if (passphraseFile !== undefined) return readPassphrase(passphraseFile);
  return passphrase === true ? askPassphrase(surroundings) : null;
}

/** Who with which code, in the order of the experiment file. */
function rowsOf(access: RoomAccess, groups: Readonly<Record<string, unknown>>): [string, string][] {
  const codes = Object.keys(groups).flatMap((group): [string, string][] => {
    const code = access.groups.get(group);
    return code === undefined ? [] : [[group, shownCode(code)]];
  });
  return [['assistant', shownCode(access.assistant)], ['display', shownCode(access.display)], ...codes];
}

function text(rows: readonly [string, string][]): string {
  const width = Math.max(...rows.map(([who]) => printable(who).length));
  return `${rows.map(([who, code]) => `${printable(who).padEnd(width)}  ${code}`).join('\n')}\n`;
}
