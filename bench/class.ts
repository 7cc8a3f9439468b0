/**
 * Times the roll-up of a large class from what was kept: 250 groups with 8 trials each, and two earlier terms of as many.
 * The results are made up from a seed, with groups that scatter by 3 % and trials by 1 %. From the root of the project:
 *
 *   npm run build && node build/bench-class.js
 */
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { classOfFolder, earlierRecordings, openAnalysis, sensorSettings } from '../src/analysis/index.ts';
import { keepResult, resultKey } from '../src/analysis/kept-result.ts';
import { experimentDecaySettings } from '../src/analysis/settings.ts';
import { predictCondition } from '../src/experiment/index.ts';
import { type Random, seededRandom } from '../src/practice/random.ts';
import { readExperiment, traitsOf } from '../src/store/index.ts';

const groups = 250;
const bodies = ['brass-12', 'brass-20', 'aluminium-12', 'aluminium-20'];
const flows = ['60', '120'];
const random = seededRandom(7);
const root = mkdtempSync(join(tmpdir(), 'emberline-class-'));

const codes = Array.from({ length: groups }, (_, i) => `G${String(i + 1).padStart(3, '0')}`);
const place = (i: number) => ({ section: `S${Math.floor(i / 10) + 1}`, bench: `bench-${(i % 10) + 1}` });

/** The experiment file of the example, with a class of another size. */
function experimentText(): string {
  const text = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  const head = text.slice(0, text.indexOf('sections: [A, B, C]'));
  const sections = [...new Set(codes.map((_, i) => place(i).section))];
  const benches = [...new Set(codes.map((_, i) => place(i).bench))];
  return `${head}
sections: [${sections.join(', ')}]
benches: [${benches.join(', ')}]
groups:
${codes.map((code, i) => `  ${code}: { section: ${place(i).section}, bench: ${place(i).bench} }`).join('\n')}
recordings: "recordings/{section}/{group}/{body}_{flow}-{repeat}"
`;
}

async function keepTerm(folder: string, dice: Random): Promise<void> {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'experiment.yaml'), experimentText());
  const experiment = await readExperiment(folder);
  for (const [i, code] of codes.entries()) {
    const own = 0.03 * dice.normal();
    for (const [k, body] of bodies.entries()) {
      for (const flow of flows) {
        const { section } = place(i);
        const path = `recordings/${section}/${code}/${body}_${flow}-1.txt`;
        const predicted = predictCondition(experiment, { body, flow }, 0);
        const middle = predicted.ok ? predicted.prediction.timeConstant.value : 30 + k;
        const value = middle * Math.exp(own + 0.01 * dice.normal());
        const file = join(folder, path);
        mkdirSync(dirname(file), { recursive: true });
        writeFileSync(file, `${folder} ${path} ${value}\n`);
        const traits = await traitsOf(file);
        if (traits === null) throw new Error(`${file} was not written`);
        await keepResult(folder, path, {
          traits,
          sha256: createHash('sha256').update(readFileSync(file)).digest('hex'),
          key: resultKey(
            { read: {}, chain: sensorSettings(experiment) },
            experimentDecaySettings(experiment, body),
          ),
          result: { kind: 'analyzed', essence: essence(value, i, dice) },
        });
      }
    }
  }
}

function essence(value: number, i: number, dice: Random) {
  const standardUncertainty = 0.006 * value;
  return {
    timeConstant: {
      value,
      standardUncertainty,
      interval: [value - 2 * standardUncertainty, value + 2 * standardUncertainty] satisfies [number, number],
      coverage: 0.95,
      degreesOfFreedom: 40,
      method: 'exponential-fit' as const,
    },
    verdict: 'usable' as const,
    codes: [],
    strip: {
      x: Array.from({ length: 40 }, (_, k) => 0.06 * k),
      y: Array.from({ length: 40 }, (_, k) => -0.06 * k + 0.01 * dice.normal()),
    },
    sketch: Array.from({ length: 64 }, () => Math.round(100 * dice.normal())),
    chain: 'Type T thermocouple at the ice point, gain 200.',
    duration: 5 * value,
    startedAt: `2026-10-${String(5 + (Math.floor(i / 10) % 5)).padStart(2, '0')}T10:00:00`,
    run: { own: 0.005, shared: 0.003 },
    noise: { white: 0.1, correlated: 0.1, correlationTime: 0.3 },
    ambient: 21 + 0.3 * dice.normal(),
    beside: null,
    excluded: null,
    cautions: [],
    graver: [],
  };
}

async function timed<T>(name: string, work: () => Promise<T> | T): Promise<T> {
  const [start, cpu] = [performance.now(), process.cpuUsage()];
  const result = await work();
  const used = process.cpuUsage(cpu);
  console.log(
    `${name}: ${((performance.now() - start) / 1000).toFixed(2)} s, of the processor ${((used.user + used.system) / 1e6).toFixed(2)} s`,
  );
  return result;
}

try {
  const now = join(root, 'now');
  const before = ['2025-autumn', '2026-spring'].map((name) => join(root, name));
  for (const folder of [now, ...before]) await keepTerm(folder, random);
  console.log(`${groups} groups of ${bodies.length * flows.length} trials, and two earlier terms`);
  const analysis = await timed('open the folder', () => openAnalysis(now, { hands: 0 }));
  const none = { recordings: [], troubles: [] };
  const alone = await timed('roll up', () => classOfFolder(analysis, none));
  const earlier = await timed('read two earlier terms', () => earlierRecordings(now, before));
  const rolled = await timed('roll up against them', () => classOfFolder(analysis, earlier));
  console.log(
    `${alone.counting} and ${rolled.earlier.recordings} recordings; ${rolled.lookAgain.length} reasons to look again; ${rolled.causes?.sentence}`,
  );
} finally {
  rmSync(root, { recursive: true });
}
