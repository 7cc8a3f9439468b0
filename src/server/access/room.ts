import type { Context } from 'hono';
import { getCookie } from 'hono/cookie';
import {
  type CodeHolder,
  ExperimentFileError,
  isPassphrase,
  matchesCode,
  openRoomAccess,
  type RoomAccess,
  readExperiment,
  renewCode,
} from '../../store/index.ts';
import { openLanes } from '../lanes.ts';
import { RequestProblem } from '../problem.ts';
import { addressOf } from './address.ts';
import { type Caller, callerAs } from './caller.ts';
import { basicCredentials, type Credentials } from './credentials.ts';
import type { Identity } from './identify.ts';
import { limit } from './limits.ts';
import { Sessions } from './sessions.ts';

/** A server that others reach: who may come in, and who is there. */
export interface Room extends Identity {
  /**
   * Lets somebody in.
   *
   * @param address from where, for the limits
   * @returns what the browser keeps, and who it is
   * @throws RequestProblem where it is not what opens
   */
  signIn(
    credentials: Credentials,
    address: string,
  ): Promise<{ readonly token: string; readonly caller: Caller }>;
  signOut(token: string): Promise<void>;
  readonly sessions: Sessions;
  /** What lets people in, with a code for each group that the experiment has now. */
  access(): Promise<RoomAccess>;
  /** Makes a new code, and sends those home who came by the old one. */
  renew(holder: CodeHolder): Promise<RoomAccess>;
  close(): Promise<void>;
}

/** What the browser keeps its session under; the prefix ties it to this host (RFC 6265bis, 4.1.3.2). */
export const cookieName = 'emberline';

/** Tries that fail, in ten minutes: of one device at one door, of one address, of all. */
const wrongAtDoor = 10;
const wrongFromAddress = 200;
const wrongInAll = 1000;
const tenMinutes = 600;
/** One passphrase is worked out at a time, for each takes 128 MiB; so many wait. */
const mostWaiting = 8;

/**
 * Opens the room of a folder.
 *
 * @param now ms since 1970
 * @throws StoreError where what lets people in cannot be read or kept
 */
export async function openRoom(folder: string, now: () => number): Promise<Room> {
  const sessions = await Sessions.open(folder, now);
  const door = limit(wrongAtDoor, tenMinutes, 'tries that did not fit');
  const from = limit(wrongFromAddress, tenMinutes, 'tries that did not fit from this address');
  const all = limit(wrongInAll, tenMinutes, 'tries that did not fit in the whole room');
  const lane = openLanes(1, mostWaiting);
  const access = async () => openRoomAccess(folder, await groupsIn(folder));
  await access();

  const fits = async (credentials: Credentials): Promise<boolean> => {
    const known = await access();
    switch (credentials.as) {
      case 'group': {
        const code = known.groups.get(credentials.group);
        return code !== undefined && matchesCode(credentials.code, code);
      }
      case 'instructor': {
        const { passphrase } = known;
        if (passphrase === null) return false;
        const never = new AbortController().signal;
        return lane(() => isPassphrase(credentials.secret, passphrase), never);
      }
      default:
        return matchesCode(credentials.secret, known[credentials.as]);
    }
  };

  /** A group as the experiment writes it: a device in the hand begins with a small letter, or with a capital one. */
  const named = async (group: string): Promise<string> => {
    const codes = [...(await access()).groups.keys()];
    const plain = group.toLowerCase();
    const alike = codes.filter((one) => one.toLowerCase() === plain);
    return codes.includes(group) ? group : alike.length === 1 ? (alike[0] ?? plain) : plain;
  };

  /** Counts tries that fail alone: a class that signs in at once from one address is no attack. */
  const admit = async (shown: Credentials, address: string): Promise<Caller> => {
    const credentials = shown.as === 'group' ? { ...shown, group: await named(shown.group) } : shown;
    const at = `${address} ${credentials.as === 'group' ? `group ${credentials.group}` : credentials.as}`;
    const limits = [[door, at] as const, [from, address] as const, [all, 'all'] as const];
    for (const [one, key] of limits) if (await one.isSpent(key)) await one.take(key);
    if (await fits(credentials)) {
      return credentials.as === 'group'
        ? callerAs('group', credentials.group)
        : callerAs(credentials.as, null);
    }
    for (const [one, key] of limits) await one.take(key);
    throw wrong(credentials.as);
  };

  return {
    sessions,
    access,
    callerOf: async (c) => {
      const token = getCookie(c, cookieName, 'host');
      if (token !== undefined) return sessions.find(token);
      const basic = basicCredentials(c.req.header('authorization'));
      return basic === null ? null : admit(basic, addressOf(c));
    },
    signIn: async (credentials, address) => {
      const caller = await admit(credentials, address);
      return { caller, token: await sessions.begin(caller) };
    },
    signOut: (token) => sessions.end(token),
    renew: async (holder) => {
      const renewed = await renewCode(folder, holder);
      const whose = typeof holder === 'string' ? holder : callerAs('group', holder.group).label;
      await sessions.endOf(({ label }) => label === whose);
      return renewed;
    },
    close: () => sessions.close(),
  };
}

function wrong(as: Credentials['as']): RequestProblem {
  const what = {
    group: 'This is not the code of this group.',
    instructor: 'This is not the passphrase.',
    assistant: 'This is not the code of the assistants.',
    display: 'This is not the code of the display.',
  };
  return new RequestProblem('wrong-secret', what[as], 'Look at it once more; the instructor has it.');
}

/** The groups of the experiment; none while its file has faults, and those that have a code keep it. */
async function groupsIn(folder: string): Promise<string[]> {
  return readExperiment(folder).then(
    ({ groups }) => Object.keys(groups),
    (error: unknown) => {
      if (error instanceof ExperimentFileError) return [];
      throw error;
    },
  );
}

/** The browser's token of a request. */
export function tokenOf(c: Context): string | null {
  return getCookie(c, cookieName, 'host') ?? null;
}
