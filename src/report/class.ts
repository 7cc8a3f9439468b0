import type { FolderClass, RecordingSummary } from '../analysis/index.ts';
import { departureWords } from '../class/index.ts';
import {
  type CollapseSeries,
  causesFigure,
  causesOfSpread,
  causesTable,
  collapseFigure,
  collapseTable,
} from '../figure/index.ts';
import type { RigStanding } from '../rig/index.ts';
import { conditionBlocks } from './class-conditions.ts';
import type { Block, Report, Text } from './document.ts';
import { drawing, drawingBoard, paperTheme } from './drawings.ts';
import { madeBy, type Origin } from './origin.ts';
import type { Quoting } from './values.ts';

/** What a class's report is made from. */
export interface ClassReportInput {
  /** Section that it is of; null for the whole class. */
  readonly section: string | null;
  readonly rolled: FolderClass;
  /** Of the class or section, in the order of the list. */
  readonly recordings: readonly RecordingSummary[];
  /** How the rigs stood at the last recording; empty where no recording says when it was. */
  readonly rig: readonly RigStanding[];
  /** Names by group code, where somebody asked for them; null for codes alone. */
  readonly names: ReadonlyMap<string, string> | null;
  readonly origin: Origin;
  readonly quoting: Quoting;
}

/** A class on paper: who is asked to look again, the spread within and between groups, its causes, the rigs. */
export function classReport(input: ClassReportInput): Report {
  const { section, rolled, origin } = input;
  const { recordings } = rolled;
  return {
    title: section === null ? 'The class' : `Section ${section}`,
    subtitle: origin.course,
    foot: madeBy(origin, `${recordings} ${recordings === 1 ? 'recording' : 'recordings'} of the class`),
    density: 'usual',
    blocks: [
      ...summaryBlocks(input),
      ...lookAgainBlocks(input),
      ...conditionBlocks(rolled.conditions, (group) => named(group, input.names), input.quoting),
      ...collapseBlocks(input),
      ...causeBlocks(rolled),
      ...listBlocks('Same traces', knownTraces(rolled)),
      ...listBlocks('Sensor chains set differently', rolled.chains.map(chainText)),
      ...listBlocks(
        'Guests, other benches, make-up sessions',
        rolled.visits.map(({ sentence }) => sentence),
      ),
      ...rigBlocks(input),
      ...listBlocks(
        'What does not count',
        rolled.left.map(({ path, reason }): Text => [{ kind: 'code', text: path }, `: ${reason}`]),
      ),
    ],
  };
}

/** Most entries of one kind on paper. */
const mostListed = 60;

function summaryBlocks({ rolled, names }: ClassReportInput): Block[] {
  const { counting, recordings, groups, conditions, sections, earlier, privacy, waiting } = rolled;
  const { labelsChecked, sketched } = rolled;
  const rows: [string, Text][] = [
    [
      'recordings',
      `${counting} of ${recordings} count${waiting === 0 ? '' : `; ${waiting} are not analyzed yet`}`,
    ],
    ['groups', String(groups.length)],
    ...(sections.length === 0 ? [] : [['sections', sections.join(', ')] satisfies [string, Text]]),
    ['conditions', String(conditions.length)],
    ['labels', `of ${labelsChecked} recordings held against what other bodies show`],
    ['traces', `of ${sketched} recordings held against all others`],
    ...(earlier.terms.length === 0
      ? []
      : [
          ['earlier terms', `${earlier.terms.join(', ')}: ${earlier.recordings} recordings`] satisfies [
            string,
            Text,
          ],
        ]),
  ];
  return [
    { kind: 'facts', rows },
    ...(names === null
      ? []
      : [caution('Names stand beside codes in this document.', 'Show it to nobody who may not know them.')]),
    ...(privacy === null ? [] : [caution(privacy, null)]),
    ...rolled.troubles.map(({ folder, message }) => caution(`Earlier term ${folder}: ${message}`, null)),
  ];
}

function caution(message: string, action: string | null): Block {
  return { kind: 'remark', number: null, severity: 'note', message, action };
}

function lookAgainBlocks({ rolled: { lookAgain }, names }: ClassReportInput): Block[] {
  if (lookAgain.length === 0) {
    return [
      { kind: 'heading', level: 1, text: 'Look again' },
      { kind: 'paragraph', text: 'Nobody lies apart beyond chance.' },
    ];
  }
  return [
    { kind: 'heading', level: 1, text: 'Look again' },
    {
      kind: 'list',
      ordered: true,
      items: lookAgain.slice(0, mostListed).map(({ kind, groups, sentence, paths }): Text => {
        const who = {
          kind: 'strong' as const,
          text: `${groups.map((one) => named(one, names)).join(', ')}: `,
        };
        // Of two files with one trace the sentence tells which they are.
        if (kind === 'same-trace') return [who, sentence];
        const rest = paths.length > 2 ? ` and ${paths.length - 2} more` : '';
        return [who, `${sentence} `, { kind: 'code', text: paths.slice(0, 2).join(', ') }, rest];
      }),
    },
    ...moreBlocks(lookAgain.length),
    {
      kind: 'paragraph',
      text: 'Nobody knows who is right: whoever lies apart may be the one that measured well. A class with nothing amiss has somebody here about once in twenty times.',
    },
  ];
}

function moreBlocks(count: number): Block[] {
  return count > mostListed
    ? [{ kind: 'paragraph', text: `And ${count - mostListed} more: emberline class tells all of them.` }]
    : [];
}

function named(code: string, names: ClassReportInput['names']): string {
  const name = names?.get(code);
  return name === undefined ? code : `${code} (${name})`;
}

function collapseBlocks({ recordings, rolled: { lookAgain }, names }: ClassReportInput): Block[] {
  const apart = new Set(lookAgain.filter(({ kind }) => kind !== 'whole').flatMap(({ paths }) => paths));
  const series = recordings.flatMap((one): CollapseSeries[] => {
    const { strip, rejected, verdict, codes, path, place } = one;
    if (strip === null || rejected) return [];
    const bent = verdict === 'repeat' || codes.includes('not-first-order');
    const group = place.group === null ? '' : `${named(place.group, names)} `;
    return [
      {
        name: place.body === null ? path : `${group}${place.body} at ${place.flow ?? ''}`,
        timeConstant: 1,
        time: strip.x,
        errorFraction: strip.y.map(Math.exp),
        stray: bent ? 'look at its report' : apart.has(path) ? 'look again' : null,
      },
    ];
  });
  if (series.length === 0) return [];
  const drawn = collapseFigure(series, { document: drawingBoard(), theme: paperTheme });
  const caption =
    'ln of the error fraction against time over each recording’s own time constant: first-order recordings of whatever body and flow fall on one line.';
  return [
    { kind: 'heading', level: 1, text: 'All on one line' },
    { kind: 'figure', figure: drawing(drawn, caption, collapseTable(series)) },
  ];
}

function causeBlocks({ causes }: FolderClass): Block[] {
  if (causes === null) return [];
  const rows = causesOfSpread(causes);
  const { without } = causes;
  const of = causes.of === 'measured/predicted' ? 'measured over predicted' : 'measured over the class';
  const apart =
    without.length === 0
      ? ''
      : `; ${without.map(({ body, flow }) => `${body} at ${flow}`).join(', ')} left aside, for scattering far more than the rest`;
  const caption = `Standard deviations of ln of ${of} by cause, with 95 % intervals, by restricted maximum likelihood${apart}.`;
  return [
    { kind: 'heading', level: 1, text: 'Where the spread comes from' },
    {
      kind: 'paragraph',
      text: `${causes.sentence} All together lie ${departureWords(causes.mean)} from ${causes.of === 'measured/predicted' ? 'theory' : 'the class'}.`,
    },
    {
      kind: 'figure',
      figure: drawing(causesFigure(rows, { theme: paperTheme }), caption, causesTable(rows), 0.85),
    },
  ];
}

/** Those that ask nobody to look again: of one group, or lent. */
function knownTraces({ sameTraces }: FolderClass): string[] {
  return sameTraces
    .filter(({ acrossGroups, borrowed }) => borrowed || !acrossGroups)
    .map(({ sentence }) => sentence);
}

function chainText({ sentence, paths, bench }: FolderClass['chains'][number]): Text {
  const [first = ''] = paths;
  if (bench !== null) return sentence;
  const rest = paths.length > 1 ? ` and ${paths.length - 1} more` : '';
  return [{ kind: 'code', text: first }, `${rest}: ${sentence}`];
}

function rigBlocks({ rig }: ClassReportInput): Block[] {
  if (rig.length === 0) return [];
  const amiss = rig.filter(({ state }) => state === 'outside' || state === 'stale');
  const missing = rig.filter(({ state }) => state === 'missing').length;
  const order = rig.length - amiss.length - missing;
  const counts = `At the last recording ${order} of ${rig.length} checks were in order, ${amiss.length} failed or too old, ${missing} never made.`;
  return [
    { kind: 'heading', level: 1, text: 'The rigs' },
    { kind: 'paragraph', text: counts },
    ...(amiss.length === 0
      ? []
      : [
          {
            kind: 'list',
            ordered: false,
            items: amiss.map(
              ({ bench, message, mend }): Text => [
                { kind: 'strong', text: bench === null ? '' : `${bench}: ` },
                mend === null ? message : `${message} ${mend}`,
              ],
            ),
          } satisfies Block,
        ]),
  ];
}

function listBlocks(title: string, items: readonly Text[]): Block[] {
  if (items.length === 0) return [];
  return [
    { kind: 'heading', level: 1, text: title },
    { kind: 'list', ordered: false, items: items.slice(0, mostListed) },
    ...moreBlocks(items.length),
  ];
}
