import { createHash, randomBytes } from 'node:crypto';
import { type RoomSession, readSessions, writeSessions } from '../../store/index.ts';
import { type Caller, callerAs } from './caller.ts';

/** ms that a session lasts at most, and without a sign of life: a day in the laboratory, a long break. */
export const longestSession = 12 * 3_600_000;
export const longestQuiet = 4 * 3_600_000;
/** Phones that are changed and browsers that forget take several each. */
const mostSessions = 2000;

/** Who has signed in. Sessions outlive the server; what the browsers keep is not in the folder. */
export class Sessions {
  readonly #folder: string;
  readonly #now: () => number;
  readonly #sessions: Map<string, RoomSession>;

  private constructor(folder: string, now: () => number, sessions: readonly RoomSession[]) {
    this.#folder = folder;
    this.#now = now;
    this.#sessions = new Map(sessions.map((one) => [one.id, one]));
  }

  /** @param now ms since 1970 */
  static async open(folder: string, now: () => number): Promise<Sessions> {
    return new Sessions(folder, now, await readSessions(folder));
  }

  /**
   * Begins a session.
   *
   * @returns what the browser keeps
   * @throws StoreError where it cannot be kept
   */
  async begin({ role, group }: Caller): Promise<string> {
    const token = randomBytes(32).toString('base64url');
    const at = this.#now();
    this.#sweep();
    if (this.#sessions.size >= mostSessions) {
      // The one that has been quiet for longest makes room.
      const [quietest] = [...this.#sessions.values()].sort((a, b) => a.seen - b.seen);
      if (quietest !== undefined) this.#sessions.delete(quietest.id);
    }
    const id = idOf(token);
    this.#sessions.set(id, { id, role, group, since: at, seen: at });
    await this.#keep();
    return token;
  }

  /** Whose session it is; null where it has ended. */
  find(token: string): Caller | null {
    const session = this.#sessions.get(idOf(token));
    if (session === undefined || this.#isOver(session)) return null;
    this.#sessions.set(session.id, { ...session, seen: this.#now() });
    return callerAs(session.role, session.group);
  }

  async end(token: string): Promise<void> {
    if (this.#sessions.delete(idOf(token))) await this.#keep();
  }

  /** Ends all sessions of some people. @returns how many */
  async endOf(whose: (caller: Caller) => boolean): Promise<number> {
    const gone = [...this.#sessions.values()].filter(({ role, group }) => whose(callerAs(role, group)));
    for (const { id } of gone) this.#sessions.delete(id);
    if (gone.length > 0) await this.#keep();
    return gone.length;
  }

  /** Who is signed in, by role and group: since when, last seen, on how many devices; times in ms since 1970. */
  list(): readonly { readonly caller: Caller; readonly seen: number; readonly devices: number }[] {
    const found = new Map<string, { caller: Caller; seen: number; devices: number }>();
    for (const { role, group, seen } of [...this.#sessions.values()].filter((one) => !this.#isOver(one))) {
      const caller = callerAs(role, group);
      const before = found.get(caller.label);
      found.set(caller.label, {
        caller,
        seen: Math.max(seen, before?.seen ?? 0),
        devices: (before?.devices ?? 0) + 1,
      });
    }
    return [...found.values()];
  }

  /** Keeps when everybody was last seen. */
  close(): Promise<void> {
    return this.#keep();
  }

  #isOver({ since, seen }: RoomSession): boolean {
    const at = this.#now();
    return at - since > longestSession || at - seen > longestQuiet;
  }

  #sweep(): void {
    for (const one of this.#sessions.values()) if (this.#isOver(one)) this.#sessions.delete(one.id);
  }

  #keep(): Promise<void> {
    return writeSessions(this.#folder, [...this.#sessions.values()]);
  }
}

function idOf(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
