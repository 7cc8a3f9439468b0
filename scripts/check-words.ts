/** Looks whether every concept has one name in source, docs, tests and examples. Run with `npm run check-words`. */
import { projectTexts, wordFaults } from './words/check.ts';

const texts = projectTexts();
const faults = wordFaults(texts);
for (const fault of faults) process.stderr.write(`${fault}\n`);
process.stdout.write(
  faults.length === 0
    ? `${texts.length} texts speak of everything by one name.\n`
    : `${faults.length} places to mend.\n`,
);
process.exitCode = faults.length === 0 ? 0 : 1;
