import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { plainTrial, simulateTrial } from '../../test/support/trial.ts';

const rate = 100;
const bodies = ['brass-12', 'brass-20', 'aluminium-12', 'aluminium-20'];
const flows = ['60', '120'];
const eachGroup = bodies.length * flows.length;
const groupsOfSection = 10;

/** A class that was made, with the paths of its recordings. */
export interface MadeClass {
  readonly groups: number;
  readonly recordings: readonly string[];
}

/**
 * Makes an experiment folder with a class: the example's experiment file with as many groups as it takes, and recordings
 * of one to two minutes at 100 Hz from seeds, in the seconds and degrees of a plain text file.
 *
 * @param count of recordings, > 0
 */
export function makeClass(folder: string, count: number): MadeClass {
  const groups = Math.ceil(count / eachGroup);
  writeFileSync(join(folder, 'experiment.yaml'), experimentText(groups));
  return { groups, recordings: Array.from({ length: count }, (_, i) => writeRecording(folder, i)) };
}

const codeOf = (group: number) => `G${String(group + 1).padStart(3, '0')}`;
const sectionOf = (group: number) => `S${Math.floor(group / groupsOfSection) + 1}`;

function experimentText(groups: number): string {
  const text = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  const head = text.slice(0, text.indexOf('sections: [A, B, C]'));
  const all = Array.from({ length: groups }, (_, i) => i);
  const benches = Array.from({ length: groupsOfSection }, (_, i) => `bench-${i + 1}`);
  const roster = all.map(
    (i) => `  ${codeOf(i)}: { section: ${sectionOf(i)}, bench: ${benches[i % benches.length]} }`,
  );
  return `${head}
sections: [${[...new Set(all.map(sectionOf))].join(', ')}]
benches: [${benches.join(', ')}]
groups:
${roster.join('\n')}
recordings: "recordings/{section}/{group}/{body}_{flow}-{repeat}"
`;
}

function writeRecording(folder: string, i: number): string {
  const group = Math.floor(i / eachGroup);
  const k = i % eachGroup;
  const below = join(folder, 'recordings', sectionOf(group), codeOf(group));
  mkdirSync(below, { recursive: true });
  const { temperature } = simulateTrial({
    ...plainTrial,
    rate,
    timeConstant: 8 + 2 * (k % bodies.length),
    coolingTimeConstants: 4,
    correlatedNoise: 0.1,
    seed: i + 1,
  });
  const lines = Array.from(temperature, (t, j) => `${(j / rate).toFixed(2)}\t${t.toFixed(3)}`);
  const name = `${bodies[k % bodies.length]}_${flows[Math.floor(k / bodies.length)]}-1.txt`;
  const path = join(below, name);
  writeFileSync(path, `Time (s)\tTemperature (degC)\n${lines.join('\n')}\n`);
  return path;
}
