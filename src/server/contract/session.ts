import { z } from 'zod';

/** Who can sign in. On the machine of the server itself everybody is the instructor. */
export const roles = ['instructor', 'assistant', 'group', 'display'] as const;

export type Role = (typeof roles)[number];

const secret = z.string().min(1).max(2000);

/** What somebody shows to be let in: a group its join code, everybody else what the instructor gave them. */
export const signInRequest = z.discriminatedUnion('as', [
  z.object({ as: z.literal('group'), group: z.string().trim().min(1).max(100), code: secret }),
  z.object({ as: z.enum(['instructor', 'assistant', 'display']), secret }),
]);

const caller = z.object({
  role: z.enum(roles),
  /** Code of the group; null for everybody else. */
  group: z.string().nullable(),
  label: z.string(),
});

/** Who is signed in on this device. */
export const sessionView = z.object({
  /** Whether the server is open to others than its own machine: then somebody signs in. */
  room: z.boolean(),
  caller: caller.nullable(),
  course: z.string().nullable().describe('Title of the course; null for nobody, and where there is none.'),
  /** Places of the page that this caller may open. */
  places: z.array(z.string()),
});

/** What the instructor sees of the room. Times in ms since 1970. */
export const roomView = z.object({
  /** Where others reach it. */
  addresses: z.array(z.string()),
  /** SHA-256 of the certificate; null where a proxy has one. */
  fingerprint: z.string().nullable(),
  /** Codes as they are handed out. */
  assistant: z.string(),
  display: z.string(),
  groups: z.array(z.object({ group: z.string(), section: z.string().nullable(), code: z.string() })),
  signedIn: z.array(z.object({ label: z.string(), seen: z.number(), devices: z.number() })),
});

/** Whose code is made anew. */
export const codeRequest = z.object({
  of: z.union([z.enum(['assistant', 'display']), z.object({ group: z.string().min(1).max(100) })]),
});

/** Whose sessions are ended, by their label. */
export const endRequest = z.object({ label: z.string().min(1).max(120) });

export type SessionView = z.infer<typeof sessionView>;
export type RoomView = z.infer<typeof roomView>;
