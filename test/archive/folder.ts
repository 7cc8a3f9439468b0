import { mkdirSync, utimesSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { decayText } from '../hostile/recording.ts';

/** A course with one body and one flow. */
export const experimentText = `term: 2026-autumn
bodies:
  brass-12: { diameter: 12 mm, material: brass }
flows:
  60: 60 L/min
sections: [A]
groups:
  A1: { section: A }
  A2: { section: A }
recordings: "recordings/{section}/{group}/{body}_{flow}-{repeat}"
`;

/** When the texts of a test were written last, ms since 1970 (UTC). */
export const written = Date.parse('2026-10-05T10:00:00Z');

/** Puts a file into a folder, written at that time. */
export function put(folder: string, path: string, content: string | Uint8Array): void {
  const file = join(folder, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, content);
  utimesSync(file, written / 1000, written / 1000);
}

export const plain = 'recordings/A/A1/brass-12_60-1.txt';
export const repaired = 'recordings/A/A2/brass-12_60-1.txt';

/** A folder with a recording of each of two groups, one of which has a comment among its numbers. */
export function courseIn(folder: string): void {
  put(folder, 'experiment.yaml', experimentText);
  put(folder, plain, decayText(1));
  put(folder, repaired, decayText(2).replace('\n50.0;', '\n# door opened\n50.0;'));
}
