import { z } from 'zod';

const who = z.string().trim().min(1).max(60);

/** Which sections see their results. */
export const releasesView = z.object({
  sections: z.array(
    z.object({
      /** Null for groups without a section, and for a class that has none. */
      section: z.string().nullable(),
      released: z.boolean(),
      /** When that was said last, ISO 8601 with zone, and who said it; null where nobody has said anything. */
      at: z.string().nullable(),
      who: z.string().nullable(),
    }),
  ),
});

/** That results of a section are released, or that a release is taken back. */
export const releaseRequest = z.object({
  section: z.string().max(100).nullable(),
  released: z.boolean(),
  who,
});

export type ReleasesView = z.infer<typeof releasesView>;
