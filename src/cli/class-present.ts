import type { FolderClass } from '../analysis/index.ts';
import { type ConditionSummary, departureWords, percentWords } from '../class/index.ts';
import { conditionName } from '../experiment/index.ts';
import { formatSignificant, formatWithUncertainty } from '../quantity/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

interface Rolled {
  readonly path: string;
  readonly rolled: FolderClass;
  /** By group code; null where nobody asked for names. */
  readonly names: ReadonlyMap<string, string> | null;
}

/** Most entries of one kind that are listed one by one. */
const mostListed = 20;

/** A class for a person who has two minutes: whom to ask first, then the spread and where it comes from. */
export function presentClass({ path, rolled, names }: Rolled, ink: Ink): string[] {
  const named = (code: string) => {
    const name = names?.get(code);
    return printable(name === undefined ? code : `${code} (${name})`);
  };
  return [
    ink.strong(printable(path)),
    ...entry('class', countWords(rolled)),
    ...earlierLines(rolled),
    ...(names === null ? [] : entry('names', 'Names stand beside codes: show this to nobody else.')),
    ...(rolled.privacy === null ? [] : entry('privacy', printable(rolled.privacy))),
    '',
    ...lookAgainLines(rolled, named, ink),
    ...conditionTable(rolled.conditions, ink),
    ...causeLines(rolled, ink),
    ...listed(
      'same trace',
      rolled.sameTraces.filter(({ acrossGroups, borrowed }) => borrowed || !acrossGroups),
      ({ sentence }) => sentence,
      ink,
    ),
    ...listed('chain', rolled.chains, chainWords, ink),
    ...listed('roster', rolled.visits, ({ sentence }) => sentence, ink),
    ...listed('left out', rolled.left, (one) => `${one.path}: ${one.reason}`, ink),
    ...checkedLines(rolled),
  ];
}

function countWords({ recordings, counting, conditions, groups, sections, waiting }: FolderClass): string {
  const of = groups.length === 0 ? '' : ` of ${groups.length} groups`;
  const where =
    sections.length === 0
      ? ''
      : ` in ${sections.length === 1 ? 'section' : 'sections'} ${sections.join(', ')}`;
  const wait = waiting === 0 ? '' : `; ${waiting} are not analyzed yet`;
  return printable(
    `${counting} of ${recordings} recordings count${of}${where}, for ${conditions.length} ${conditions.length === 1 ? 'condition' : 'conditions'}${wait}`,
  );
}

function earlierLines({ earlier, troubles }: FolderClass): string[] {
  const { terms, recordings } = earlier;
  return [
    ...(terms.length === 0
      ? []
      : entry(
          'earlier',
          printable(`${recordings} recordings of ${terms.join(', ')} tell how much groups usually differ`),
        )),
    ...troubles.flatMap(({ folder, message }) => entry('earlier', printable(`${folder}: ${message}`))),
  ];
}

function lookAgainLines({ lookAgain }: FolderClass, named: (code: string) => string, ink: Ink): string[] {
  if (lookAgain.length === 0) return [...entry('look again', 'Nobody lies apart beyond chance.'), ''];
  const count = lookAgain.length === 1 ? 'One reason' : `${lookAgain.length} reasons`;
  return [
    ink.strong(`${count} to look again`),
    ...lookAgain.slice(0, mostListed).flatMap(({ kind, groups, sentence, paths }) => [
      ...labelled(groups.map(named).join(', '), printable(sentence), ink.warm),
      // Of two files with one trace the sentence tells which they are.
      ...(kind === 'same-trace' ? [] : paths.slice(0, 2)).map((path) => `             ${printable(path)}`),
      ...(paths.length > 2 ? [`             and ${paths.length - 2} more`] : []),
    ]),
    ...more(lookAgain.length),
    '',
  ];
}

/** A label too long for the margin stands on a line of its own. */
function labelled(label: string, text: string, ink: (text: string) => string): string[] {
  if (label.length > 10) return [`  ${ink(label)}`, ...entry('', text)];
  return entry(label, text).map((line, i) => (i === 0 ? line.replace(label, ink(label)) : line));
}

function more(count: number): string[] {
  return count > mostListed ? entry('', `and ${count - mostListed} more, all of them with --json`) : [];
}

function conditionTable(conditions: readonly ConditionSummary[], ink: Ink): string[] {
  if (conditions.length === 0) return [];
  const head = '  condition            groups trials    tau ± U, s  one group  any group  theory';
  const few = conditions.filter(({ band }) => band === null);
  const earlier = conditions.filter(({ spread }) => spread === 'earlier-terms').length;
  return [
    ink.faint(head),
    ...conditions.map((one) => {
      const { groups, location, interval, precision, predicted } = one;
      const written =
        interval === null ? null : formatWithUncertainty(location, (interval[1] - interval[0]) / 2);
      const value =
        written === null ? formatSignificant(location, 3) : `${written.value} ± ${written.uncertainty}`;
      const trials = groups.reduce((sum, group) => sum + group.trials, 0);
      return [
        `  ${shortened(printable(conditionName(one)), 20).padEnd(20)}`,
        String(groups.length).padStart(6),
        String(trials).padStart(6),
        value.padStart(13),
        (precision?.repeatability == null ? '-' : percentWords(precision.repeatability)).padStart(10),
        (precision === null ? '-' : percentWords(precision.reproducibility)).padStart(10),
        (predicted === null ? '-' : formatSignificant(location / predicted, 3)).padStart(7),
      ].join(' ');
    }),
    ...entry(
      '',
      'tau is the robust mean of the groups, ± its 95 % interval; one group: how its own trials scatter (repeatability); any group: single trials of any group (reproducibility), their 95 % intervals with --json; theory: measured over predicted.',
      2,
    ),
    ...(earlier === 0
      ? []
      : entry(
          '',
          `The spread of earlier terms decides in ${earlier} of them who is asked to look again.`,
          2,
        )),
    ...(few.length === 0
      ? []
      : entry(
          '',
          `Too few groups to single one out: ${few.map((one) => printable(conditionName(one))).join(', ')}.`,
          2,
        )),
    '',
  ];
}

function causeLines({ causes }: FolderClass, ink: Ink): string[] {
  if (causes === null) return [];
  const of = causes.of === 'measured/predicted' ? 'ln(measured/predicted)' : 'ln(measured/mean of the class)';
  return [
    ...entry('causes', printable(causes.sentence)),
    ink.faint(`  ${'spread of'.padEnd(24)} levels   deviation   95 % within     share`),
    ...causes.factors.map(({ factor, levels, deviation, interval, share }) => {
      const same = causes.alike.filter(([kept]) => kept === factor).map(([, one]) => one);
      const [low, high] = interval;
      return [
        `  ${shortened([factor, ...same].join(' or '), 24).padEnd(24)}`,
        String(levels).padStart(6),
        percentWords(deviation).padStart(11),
        `${percentWords(low)} to ${high === null ? '∞' : percentWords(high)}`.padStart(17),
        `${Math.round(100 * share)} %`.padStart(6),
      ].join(' ');
    }),
    `  ${'trials alike in all'.padEnd(24)}        ${percentWords(causes.residual).padStart(11)}`,
    ...entry(
      '',
      `Taken apart is ${of}, ${withoutWords(causes)}; all measured lie ${departureWords(causes.mean)} from ${causes.of === 'measured/predicted' ? 'theory' : 'it'}.`,
      2,
    ),
    '',
  ];
}

function withoutWords({ without }: NonNullable<FolderClass['causes']>): string {
  const labels = 'without recordings of another body than their label says';
  if (without.length === 0) return labels;
  return `${labels}, and without ${without.map((one) => printable(conditionName(one))).join(', ')}, which scatter far more than the others`;
}

function chainWords({ sentence, paths, bench }: FolderClass['chains'][number]): string {
  const [first = ''] = paths;
  const which =
    bench !== null ? '' : paths.length === 1 ? `${first}: ` : `${first} and ${paths.length - 1} more: `;
  return `${which}${sentence}`;
}

function listed<T>(label: string, things: readonly T[], wordsOf: (thing: T) => string, ink: Ink): string[] {
  if (things.length === 0) return [];
  return [
    ...things
      .slice(0, mostListed)
      .flatMap((thing, i) => labelled(i === 0 ? label : '', printable(wordsOf(thing)), ink.warm)),
    ...more(things.length),
    '',
  ];
}

/** What was looked at, so that silence about it means something. */
function checkedLines({ counting, recordings, labelsChecked, sketched }: FolderClass): string[] {
  return [
    ...entry(
      'checked',
      `the labels of ${labelsChecked} of ${counting} that count, against what other bodies show; the traces of ${sketched} of ${recordings}, against all others`,
    ),
    '',
  ];
}

function shortened(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}
