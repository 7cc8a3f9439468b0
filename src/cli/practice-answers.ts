import type { Condition } from '../experiment/index.ts';
import { conditionName } from '../experiment/index.ts';
import type { ReadPracticeKey } from '../practice/index.ts';
import { formatSignificant } from '../quantity/index.ts';
import { findPracticeKey, readPracticeKey } from '../store/index.ts';
import { type ExitStatus, type Ink, inkFor, printable, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';
import { entry } from './wrap.ts';

/**
 * Shows the key of a set of practice recordings.
 *
 * @param answers file or folder; true where the folder says it
 */
export async function showAnswers(
  folder: string | undefined,
  answers: string | true,
  passphrase: string | null,
  json: boolean,
  { stdout, environment }: Surroundings,
): Promise<ExitStatus> {
  const asked = answers === true ? folder : answers;
  if (asked === undefined)
    throw new OptionError('--answers: name the key file, or the folder that it belongs to');
  const path = await findPracticeKey(asked);
  const key = await readPracticeKey(path, passphrase);
  stdout.write(
    json
      ? `${JSON.stringify(key)}\n`
      : `${presentAnswers(path, key, inkFor(stdout, environment)).join('\n')}\n`,
  );
  return 0;
}

type Keyed = ReadPracticeKey['recordings'][number];

const nameWidth = 28;
const head = `    ${'condition'.padEnd(nameWidth)} rep   tau s  lumped s      Bi  peak °C    end`;

/** The key for a person: lines of at most 80 columns but for paths and long names of faults. */
function presentAnswers(path: string, key: ReadPracticeKey, ink: Ink): string[] {
  const groups = [...new Set(key.recordings.map(({ group }) => group))];
  const planted = key.recordings.filter(({ faults }) => faults.length > 0).length;
  const benches = Object.entries(key.benchMultipliers).map(
    ([bench, factor]) => `${printable(bench)} ${figures(factor, 4)}`,
  );
  return [
    ink.strong(printable(path)),
    ...(key.course === null ? [] : entry('course', printable(key.course))),
    ...entry('seed', `${printable(key.seed)}, by version ${printable(key.version)}`),
    ...entry('recordings', `${key.recordings.length}, ${planted} of them with a fault`),
    ...entry(
      'truth',
      `Nusselt number of the rig over the correlation: ${figures(key.nusseltMultiplier, 4)}; of benches over the rig: ${benches.join(', ')}.`,
    ),
    ...entry(
      'columns',
      'tau: of the noise-free junction between error fractions 0.9 and 0.1; lumped: without conduction inside and wires; Bi with volume over area; end: error fraction of the last reading.',
    ),
    '',
    ...groups.flatMap((group) =>
      groupLines(
        group,
        key.recordings.filter((one) => one.group === group),
        ink,
      ),
    ),
  ];
}

function groupLines(group: string, recordings: readonly Keyed[], ink: Ink): string[] {
  const [first] = recordings;
  const where =
    first === undefined ? '' : `${first.section === null ? '' : `section ${first.section}, `}${first.bench}`;
  return [
    `  ${ink.strong(printable(group))}  ${printable(where)}`,
    ink.faint(head),
    ...recordings.flatMap((one) => [row(one), ...faultLines(one, ink)]),
    ...slipLines(recordings, ink),
    '',
  ];
}

function row({ condition, repeat, truth }: Keyed): string {
  return [
    `    ${shortened(named(condition), nameWidth).padEnd(nameWidth)}`,
    String(repeat).padStart(3),
    (truth.timeConstant === null ? '-' : figures(truth.timeConstant, 4)).padStart(7),
    figures(truth.lumpedTimeConstant, 4).padStart(9),
    figures(truth.biot, 2).padStart(7),
    figures(truth.peak, 4).padStart(8),
    figures(truth.endFraction, 2).padStart(6),
  ].join(' ');
}

function faultLines({ faults }: Keyed, ink: Ink): string[] {
  return faults.flatMap(({ name, numbers }) => {
    const words = Object.entries(numbers).map(([what, value]) => {
      // Names carry the unit behind a comma, as the heads of tables do.
      const [quantity = '', unit = ''] = what.split(', ');
      const shown = typeof value === 'number' ? figures(value, 4) : printable(value);
      return `${printable(quantity)} ${shown} ${printable(unit).replace('deg', '°')}`.trimEnd();
    });
    const text = words.length === 0 ? printable(name) : `${printable(name)}: ${words.join('; ')}`;
    const [top = '', ...rest] = entry('', text, 8);
    return [top.replace(printable(name), ink.warm(printable(name))), ...rest];
  });
}

/** Slips in what the group handed in: it makes them in every recording that allows them. */
function slipLines(recordings: readonly Keyed[], ink: Ink): string[] {
  const slips = new Set(recordings.flatMap(({ handedIn }) => handedIn?.slips ?? []));
  if (slips.size === 0) return [];
  const names = [...slips].map((name) => ink.warm(printable(name)));
  return [`        slips in its sheet: ${names.join(', ')}`];
}

function named(condition: Condition): string {
  return printable(conditionName(condition));
}

function figures(value: number, digits: number): string {
  return formatSignificant(value, digits);
}

function shortened(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}
