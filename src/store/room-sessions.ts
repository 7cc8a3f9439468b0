import { z } from 'zod';
import { readRoomFile, writeRoomFile } from './room-folder.ts';

const file = 'sessions.json';

const session = z.object({
  /** SHA-256 of what the browser keeps: with this file alone nobody gets in. */
  id: z.string().regex(/^[0-9a-f]{64}$/),
  role: z.enum(['instructor', 'assistant', 'group', 'display']),
  group: z.string().nullable(),
  /** ms since 1970 */
  since: z.number(),
  seen: z.number(),
});

/** Somebody who has signed in. */
export type RoomSession = z.infer<typeof session>;

/** Who had signed in when the server last said so; none where that cannot be read: they sign in again. */
export async function readSessions(folder: string): Promise<readonly RoomSession[]> {
  try {
    const read = z.array(session).safeParse(JSON.parse((await readRoomFile(folder, file)) ?? '[]'));
    return read.success ? read.data : [];
  } catch {
    return [];
  }
}

/** @throws StoreError */
export async function writeSessions(folder: string, sessions: readonly RoomSession[]): Promise<void> {
  await writeRoomFile(folder, file, `${JSON.stringify(sessions)}\n`);
}
