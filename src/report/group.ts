import type { FolderComparison, RecordingDetail, RecordingSummary } from '../analysis/index.ts';
import { verdictWords } from '../analysis/index.ts';
import {
  type CollapseSeries,
  collapseFigure,
  collapseTable,
  comparedFigure,
  comparedTable,
} from '../figure/index.ts';
import type { Block, Report, Text } from './document.ts';
import { drawing, drawingBoard, paperTheme } from './drawings.ts';
import { madeBy, type Origin } from './origin.ts';
import { trialBlocks } from './trial.ts';
import { halfWidth, paperWords, type Quoting, quoted, quotedInterval, quotedPair } from './values.ts';

/** What a group's report is made from. */
export interface GroupReportInput {
  readonly group: string;
  /** Of this group alone, in the order of the list. */
  readonly recordings: readonly RecordingSummary[];
  /** Of this group alone. */
  readonly comparison: FolderComparison;
  /** How far the correlation may be off in h, as a part of it. */
  readonly accuracy: number | null;
  /** Trials with a page of their own behind the summary; none for the summary alone. */
  readonly details: readonly RecordingDetail[];
  readonly origin: Origin;
  readonly quoting: Quoting;
}

/** All trials of a group: a table ready to be quoted, held against theory, and each trial in full where asked for. */
export function groupReport(input: GroupReportInput): Report {
  const { group, recordings, origin, details, quoting } = input;
  const sections = [...new Set(recordings.flatMap(({ place }) => place.section ?? []))];
  return {
    title: `Group ${group}`,
    subtitle: `${origin.course}${sections.length === 1 ? `, section ${sections[0]}` : ''}`,
    foot: madeBy(
      origin,
      `${recordings.length} ${recordings.length === 1 ? 'recording' : 'recordings'} of the group`,
    ),
    density: 'usual',
    blocks: [
      ...resultBlocks(input),
      ...trialTable(recordings, quoting),
      ...againstTheory(input),
      ...collapseBlocks(recordings),
      ...leftBlocks(input.comparison),
      ...details.flatMap((detail): Block[] => [
        { kind: 'page-break' },
        { kind: 'heading', level: 1, text: trialName(detail) },
        ...trialBlocks({ detail, origin, quoting }).map(lowered),
      ]),
    ],
  };
}

/** A heading one level lower, for parts of a part. */
function lowered(block: Block): Block {
  return block.kind === 'heading' ? { ...block, level: block.level === 1 ? 2 : 3 } : block;
}

function trialName({ place, path }: RecordingSummary): string {
  if (place.body === null || place.flow === null) return path;
  return `${place.body} at ${place.flow}${place.repeat === null ? '' : `, trial ${place.repeat}`}`;
}

/** What the group found, ready to be quoted. */
function resultBlocks({ comparison, quoting }: GroupReportInput): Block[] {
  const rows = comparison.conditions.map(({ body, flow, measured, predicted }): Text[] => {
    const [value, uncertainty] = quotedPair(measured.value, halfWidth(measured.interval), quoting);
    const expected = predicted === null ? null : quotedInterval(predicted.value, predicted.interval, quoting);
    return [
      body,
      flow,
      String(measured.runs.length),
      value,
      uncertainty,
      expected?.value ?? '',
      expected?.interval ?? '',
    ];
  });
  if (rows.length === 0)
    return [{ kind: 'paragraph', text: 'No trial of this group carries a time constant.' }];
  return [
    { kind: 'heading', level: 1, text: 'Results' },
    {
      kind: 'table',
      table: {
        caption:
          'Time constants of the conditions with their expanded uncertainties (coverage 95 %), and what theory expects with its 95 % interval.',
        columns: [
          { title: 'body', align: 'start' },
          { title: 'flow', align: 'start' },
          { title: 'trials', align: 'end' },
          { title: 'τ / s', align: 'decimal' },
          { title: 'U / s', align: 'decimal' },
          { title: 'expected / s', align: 'decimal' },
          { title: 'expected between / s', align: 'end' },
        ],
        rows,
      },
    },
  ];
}

function trialTable(recordings: readonly RecordingSummary[], quoting: Quoting): Block[] {
  const folder = commonFolder(recordings.map(({ path }) => path));
  return [
    { kind: 'heading', level: 1, text: 'Trials' },
    {
      kind: 'table',
      table: {
        caption: `Time constants with their expanded uncertainties (coverage 95 %).${
          folder === '' ? '' : ` The files lie in ${folder}.`
        }`,
        columns: [
          { title: 'trial', align: 'start' },
          { title: 'time constant', align: 'end' },
          { title: 'state', align: 'start' },
          { title: 'file', align: 'start', share: 1 },
        ],
        rows: recordings.map((one) => [
          trialName(one),
          one.timeConstant === null
            ? '–'
            : quoted(one.timeConstant.value, halfWidth(one.timeConstant.interval), 's', quoting),
          stateOf(one),
          one.path.slice(folder.length),
        ]),
      },
    },
  ];
}

/** The folder that holds all of these paths, with / at its end; empty where there is none. */
function commonFolder([first = '', ...others]: readonly string[]): string {
  const parts = first.split('/').slice(0, -1);
  const shared = parts.filter((_, i) => {
    const start = `${parts.slice(0, i + 1).join('/')}/`;
    return others.every((path) => path.startsWith(start));
  });
  return shared.map((part) => `${part}/`).join('');
}

function stateOf({ rejected, verdict, state, copyOf, message }: RecordingSummary): string {
  if (rejected) return 'rejected by hand';
  if (copyOf !== null) return 'a copy of another';
  if (state === 'unreadable') return `cannot be read${message === null ? '' : `: ${message}`}`;
  return verdict === null ? 'not analyzed' : verdictWords[verdict];
}

function againstTheory({ comparison, accuracy, quoting }: GroupReportInput): Block[] {
  const compared = comparison.conditions.flatMap(({ body, flow, measured, predicted, verdict }) =>
    predicted === null || verdict === null
      ? []
      : [
          {
            body,
            flow,
            measured: measured.value,
            measuredInterval: measured.interval,
            predicted: predicted.value,
            predictedInterval: predicted.interval,
            verdict,
          },
        ],
  );
  if (compared.length === 0) return [];
  const drawn = comparedFigure(compared, {
    theme: paperTheme,
    width: 580,
    accuracy,
  });
  const caption =
    'Measured against expected, with both 95 % intervals, the line on which they are equal, and the band of the correlation.';
  return [
    { kind: 'heading', level: 1, text: 'Held against theory' },
    { kind: 'figure', figure: drawing(drawn, caption, comparedTable(compared), 0.65) },
    {
      kind: 'list',
      ordered: false,
      items: comparison.conditions.map(({ body, flow, sentence }) => [
        { kind: 'strong', text: `${body} at ${flow}: ` },
        paperWords(sentence),
      ]),
    },
    ...heatTransferBlocks(comparison, quoting),
    ...(comparison.trends.length === 0
      ? []
      : [
          { kind: 'heading', level: 2, text: 'Trends' } satisfies Block,
          {
            kind: 'list',
            ordered: false,
            items: comparison.trends.map(
              ({ material, what, sentence }): Text => [
                { kind: 'strong', text: `${material}, ${what}: ` },
                paperWords(sentence),
              ],
            ),
          } satisfies Block,
        ]),
  ];
}

function heatTransferBlocks({ conditions }: FolderComparison, quoting: Quoting): Block[] {
  const rows = conditions.flatMap(({ body, flow, heatTransfer }): Text[][] => {
    if (heatTransfer === null) return [];
    const cell = ({ value, interval }: { value: number; interval: readonly [number, number] }) =>
      quoted(value, halfWidth(interval), '', quoting);
    return [
      [body, flow, cell(heatTransfer.total), cell(heatTransfer.convection), cell(heatTransfer.nusselt)],
    ];
  });
  if (rows.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Heat transfer that they stand for' },
    {
      kind: 'table',
      table: {
        caption:
          'Calculated back from the measured time constants, with expanded uncertainties (coverage 95 %).',
        columns: [
          { title: 'body', align: 'start' },
          { title: 'flow', align: 'start' },
          { title: 'h, all / W/(m²·K)', align: 'end' },
          { title: 'h, convection / W/(m²·K)', align: 'end' },
          { title: 'Nu', align: 'end' },
        ],
        rows,
      },
    },
  ];
}

function collapseBlocks(recordings: readonly RecordingSummary[]): Block[] {
  const series = recordings.flatMap((one): CollapseSeries[] => {
    const { strip, rejected, verdict, codes } = one;
    if (strip === null || rejected) return [];
    const stray = verdict === 'repeat' || codes.includes('not-first-order');
    return [
      {
        name: trialName(one),
        timeConstant: 1,
        time: strip.x,
        errorFraction: strip.y.map(Math.exp),
        stray: stray ? 'look at its report' : null,
      },
    ];
  });
  if (series.length === 0) return [];
  const drawn = collapseFigure(series, { document: drawingBoard(), theme: paperTheme, width: 700 });
  const caption =
    'ln of the error fraction against time over each trial’s own time constant: first-order trials fall on one line.';
  return [
    { kind: 'heading', level: 1, text: 'How straight the decays are' },
    { kind: 'figure', figure: drawing(drawn, caption, collapseTable(series)) },
  ];
}

function leftBlocks({ left }: FolderComparison): Block[] {
  if (left.length === 0) return [];
  return [
    { kind: 'heading', level: 1, text: 'What does not count' },
    { kind: 'list', ordered: false, items: left.map(({ path, why }) => `${path}: ${why}`) },
  ];
}
