import { randomBytes, randomInt, scrypt, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';
import { StoreError } from './experiment-save.ts';
import { withFileLock } from './file-lock.ts';
import { makeRoomFolder, readRoomFile, roomPath, writeRoomFile } from './room-folder.ts';

/** What somebody has to know to be let in; codes are made here, the passphrase is the instructor's own. */
export interface RoomAccess {
  /** Null until the instructor has set one. */
  readonly passphrase: HiddenPassphrase | null;
  readonly assistant: string;
  readonly display: string;
  /** Join codes by the codes of the groups. */
  readonly groups: ReadonlyMap<string, string>;
}

/** A passphrase as it is kept: with it alone nobody gets in. */
interface HiddenPassphrase {
  readonly salt: string;
  readonly key: string;
}

/** Whose code it is. */
export type CodeHolder = 'assistant' | 'display' | { readonly group: string };

const file = 'access.json';
const hidden = z.object({
  salt: z.string().regex(/^[0-9a-f]{32}$/),
  key: z.string().regex(/^[0-9a-f]{64}$/),
});
const code = z.string().regex(/^[0-9A-Z]{10}$/);
const schema = z.object({
  about: z.string(),
  passphrase: hidden.nullable(),
  assistant: code,
  display: code,
  groups: z.array(z.tuple([z.string().min(1).max(100), code])),
});
const about =
  'Who may come into the room: the codes as they are handed out, the passphrase of the instructor by scrypt only. Keep it to yourself; emberline room shows it and makes new codes.';

/** Digits and capitals without those that are taken for another (after D. Crockford's base 32). */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
/** 50 bits: with a few tries a minute nobody gets there. */
const codeLength = 10;

/** NIST SP 800-63B-4 (2025), 3.1.1.2, for a password that is the only factor; from memory. */
const shortestPassphrase = 15;
const longestPassphrase = 1024;

/** OWASP's least for scrypt (Password Storage Cheat Sheet; from memory): 128 MiB and some tenths of a second a try. */
const cost = { N: 2 ** 17, r: 8, p: 1, maxmem: 192 << 20 } as const;
const keyLength = 32;

/**
 * What lets people in, with a code for each group; what is missing is made and kept.
 *
 * @param groups codes of the groups of the experiment
 * @throws StoreError where the file cannot be read or written
 */
export async function openRoomAccess(folder: string, groups: readonly string[]): Promise<RoomAccess> {
  return changeAccess(folder, (before) => {
    const access = before ?? {
      passphrase: null,
      assistant: newCode(),
      display: newCode(),
      groups: new Map<string, string>(),
    };
    const missing = groups.filter((group) => !access.groups.has(group));
    if (before !== null && missing.length === 0) return before;
    const added = missing.map((group) => [group, newCode()] as const);
    return { ...access, groups: new Map([...access.groups, ...added]) };
  });
}

/**
 * Makes a new code in place of one that went astray.
 *
 * @throws StoreError
 */
export async function renewCode(folder: string, holder: CodeHolder): Promise<RoomAccess> {
  return changeAccess(folder, (before) => {
    const access = before ?? nobodyYet();
    if (typeof holder === 'string') return { ...access, [holder]: newCode() };
    return { ...access, groups: new Map([...access.groups, [holder.group, newCode()]]) };
  });
}

/**
 * Sets the passphrase of the instructor.
 *
 * @throws StoreError where it is too short or too long, or cannot be kept
 */
export async function setPassphrase(folder: string, passphrase: string): Promise<RoomAccess> {
  const length = [...passphrase].length;
  if (length < shortestPassphrase || length > longestPassphrase) {
    throw new StoreError(
      `A passphrase has from ${shortestPassphrase} to ${longestPassphrase} characters, this one ${length}. Take a few words that only you put together.`,
    );
  }
  const salt = randomBytes(16).toString('hex');
  const key = (await derived(passphrase, salt)).toString('hex');
  return changeAccess(folder, (before) => ({ ...(before ?? nobodyYet()), passphrase: { salt, key } }));
}

/** Whether it is the passphrase that is kept. Takes some tenths of a second and 128 MiB. */
export async function isPassphrase(given: string, { salt, key }: HiddenPassphrase): Promise<boolean> {
  if ([...given].length > longestPassphrase) return false;
  return timingSafeEqual(await derived(given, salt), Buffer.from(key, 'hex'));
}

/** Whether it is the code, as people type codes: small letters, spaces and hyphens are no matter, nor O for 0. */
export function matchesCode(given: string, code: string): boolean {
  const plain = given
    .slice(0, 100)
    .toUpperCase()
    .replace(/[\s-]/g, '')
    .replaceAll('O', '0')
    .replace(/[IL]/g, '1');
  const [one, other] = [Buffer.from(plain), Buffer.from(code)];
  return one.length === other.length && timingSafeEqual(one, other);
}

/** A code as it is shown: in two halves. */
export function shownCode(code: string): string {
  return `${code.slice(0, codeLength / 2)}-${code.slice(codeLength / 2)}`;
}

function nobodyYet(): RoomAccess {
  return { passphrase: null, assistant: newCode(), display: newCode(), groups: new Map() };
}

function newCode(): string {
  return Array.from({ length: codeLength }, () => letters.charAt(randomInt(letters.length))).join('');
}

function derived(passphrase: string, salt: string): Promise<Buffer> {
  // The same words typed on another keyboard may come as other code points (RFC 8265, 4.2).
  const plain = passphrase.normalize('NFC');
  return new Promise((resolve, reject) => {
    scrypt(plain, Buffer.from(salt, 'hex'), keyLength, cost, (error, key) => {
      if (error === null) resolve(key);
      else reject(error);
    });
  });
}

async function changeAccess(
  folder: string,
  change: (before: RoomAccess | null) => RoomAccess,
): Promise<RoomAccess> {
  await makeRoomFolder(folder);
  return withFileLock(roomPath(folder, file), async () => {
    const before = parsed(await readRoomFile(folder, file));
    const after = change(before);
    if (after !== before) await writeRoomFile(folder, file, written(after));
    return after;
  });
}

function parsed(text: string | null): RoomAccess | null {
  if (text === null) return null;
  let json: unknown = null;
  try {
    json = JSON.parse(text);
  } catch {
    // What follows says so.
  }
  const read = schema.safeParse(json);
  if (!read.success) {
    throw new StoreError(
      `.room/${file} is damaged. Move it away: new codes are made then, and the passphrase is set anew.`,
    );
  }
  const { passphrase, assistant, display, groups } = read.data;
  return { passphrase, assistant, display, groups: new Map(groups) };
}

function written({ passphrase, assistant, display, groups }: RoomAccess): string {
  return `${JSON.stringify({ about, passphrase, assistant, display, groups: [...groups] }, null, 2)}\n`;
}
