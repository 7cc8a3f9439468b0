import { z } from 'zod';

/** Longest name of a term. */
const longestTerm = 40;
/** Folders of earlier terms that one file may name: ten years of two terms each. */
const mostTerms = 20;
const longestPath = 400;

/** In which term the course is held. */
export const term = z
  .union([z.string(), z.number()], { error: 'write what the term is called, such as 2026-spring' })
  .transform((given) => String(given).trim())
  .refine((name) => name !== '' && name.length <= longestTerm, {
    error: `write 1 to ${longestTerm} characters, such as 2026-spring`,
  })
  // biome-ignore lint/suspicious/noControlCharactersInRegex: a name of one line has none
  .refine((name) => !/[\u0000-\u001f\u007f]/.test(name), { error: 'write the name in one line' })
  .describe('What the term is called in which the course is held, as 2026-spring.');

const folder = z
  .string({ error: 'write the path of a folder, such as ../thornwick-2025' })
  .trim()
  .min(1, { error: 'write the path of a folder, such as ../thornwick-2025' })
  .max(longestPath, { error: `write at most ${longestPath} characters` })
  // biome-ignore lint/suspicious/noControlCharactersInRegex: no path may hold them
  .refine((path) => !/[\u0000-\u001f\u007f]/.test(path), { error: 'write a path without line breaks' });

/** Where the same course of earlier terms is kept. */
export const earlierTerms = z
  .array(folder, { error: 'write a list of folders, such as [../thornwick-2025]' })
  .max(mostTerms, { error: `list at most ${mostTerms}` })
  .refine((folders) => new Set(folders).size === folders.length, { error: 'a folder stands here twice' })
  .describe(
    'Folders of the same course in earlier terms, from this folder or whole; they are read and never changed.',
  );
