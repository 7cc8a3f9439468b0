import type { RecordingDetail, StatedTimeConstant } from '../analysis/index.ts';
import { methodWords, verdictWords } from '../analysis/index.ts';
import {
  budgetFigure,
  intervalFigure,
  intervalTable,
  residualFigure,
  residualTable,
  type TraceFigureData,
  traceFigure,
  traceTable,
} from '../figure/index.ts';
import { formatSignificant, trueMinus } from '../quantity/index.ts';
import type { Block, DocumentTable, Report } from './document.ts';
import { drawing, drawingBoard, paperTheme } from './drawings.ts';
import { hashWords, madeBy, type Origin, shortHash } from './origin.ts';
import {
  paperWords,
  type Quoting,
  quoted,
  quotedBeside,
  quotedInterval,
  quotedPair,
  quotedResult,
  shareWords,
} from './values.ts';

/** Whose report it is, and how it quotes. */
export interface TrialReportInput {
  readonly detail: RecordingDetail;
  readonly origin: Origin;
  readonly quoting: Quoting;
}

/**
 * One recording on paper: figure, estimates, budget, prediction, remarks, what was decided by hand, and what it was
 * made from.
 */
export function trialReport(input: TrialReportInput): Report {
  const { detail, origin } = input;
  return {
    title: `Recording ${detail.path}`,
    subtitle: `${origin.course}${placeWords(detail)}`,
    foot: madeBy(origin, `recording ${shortHash(detail.file.sha256)}`),
    density: 'usual',
    blocks: trialBlocks(input),
  };
}

/** The parts of a trial's report, for a report of several. */
export function trialBlocks({ detail, origin, quoting }: TrialReportInput): Block[] {
  const figure = figureOf(detail, quoting);
  const options = { document: drawingBoard(), theme: paperTheme };
  const blocks: Block[] = [resultBlock(detail, quoting)];
  const caption = `Temperature against time with its parts, and ln of the error fraction in the window.${
    figure.remarks.length === 0 ? '' : ' Numbers are those of the remarks.'
  }`;
  blocks.push({
    kind: 'figure',
    figure: drawing(
      traceFigure(figure, { ...options, width: 700, heading: false, notes: 'numbers' }),
      caption,
      traceTable(figure),
    ),
  });
  blocks.push(...remarkBlocks(detail), ...estimateBlocks(detail, quoting));
  if (detail.residuals.length > 0) {
    const drawn = residualFigure(figure, { ...options, points: detail.residuals, width: 700 });
    const words = 'What the fitted curve leaves over. A bend here is what one exponential does not explain.';
    blocks.push(
      { kind: 'heading', level: 1, text: 'Residuals' },
      {
        kind: 'figure',
        figure: drawing(drawn, words, residualTable(figure, detail.residuals)),
      },
    );
    if (detail.adequacy !== null)
      blocks.push({ kind: 'paragraph', text: paperWords(detail.adequacy.sentence) });
  }
  blocks.push(...budgetBlocks(detail), ...predictionBlocks(detail, quoting), ...decisionBlocks(detail));
  blocks.push(...computedBlocks(detail, origin, quoting));
  return blocks;
}

/** What the figure shows, with the result as the document quotes it. */
function figureOf({ figure, remarks, timeConstant }: RecordingDetail, quoting: Quoting): TraceFigureData {
  if (timeConstant === null) return { ...figure, remarks };
  const result = quotedResult(timeConstant, timeConstant.coverage, quoting);
  return { ...figure, remarks, headline: `Time constant ${result}` };
}

function placeWords({ place, startedAt }: RecordingDetail): string {
  const parts = [
    place.body,
    place.flow === null ? null : `flow ${place.flow}`,
    place.repeat === null ? null : `trial ${place.repeat}`,
    place.group === null ? null : `group ${place.group}`,
    place.section === null ? null : `section ${place.section}`,
    place.bench,
    startedAt === null ? null : `recorded ${startedAt.replace('T', ' ').slice(0, 16)}`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? '' : `: ${parts.join(', ')}`;
}

function resultBlock({ timeConstant, verdict, rejected }: RecordingDetail, quoting: Quoting): Block {
  const state = rejected ? 'rejected by hand' : verdict === null ? 'not analyzed' : verdictWords[verdict];
  if (timeConstant === null) {
    return { kind: 'paragraph', text: [{ kind: 'strong', text: 'No time constant' }, ` · ${state}`] };
  }
  return {
    kind: 'paragraph',
    text: [
      { kind: 'strong', text: `Time constant ${quotedResult(timeConstant, timeConstant.coverage, quoting)}` },
      `, ${freedomWords(timeConstant)} · ${state}`,
    ],
  };
}

function freedomWords({ degreesOfFreedom }: StatedTimeConstant): string {
  const freedom = degreesOfFreedom > 1000 ? 'many' : formatSignificant(degreesOfFreedom, 2);
  return `${freedom} degrees of freedom`;
}

function remarkBlocks({ remarks }: RecordingDetail): Block[] {
  if (remarks.length === 0) return [{ kind: 'paragraph', text: 'Nothing was remarked.' }];
  return [
    { kind: 'heading', level: 1, text: 'Remarks' },
    ...remarks.map(({ severity, message, action }, i): Block => {
      const words = { message: trueMinus(message), action: trueMinus(action) };
      return { kind: 'remark', number: i + 1, severity, ...words };
    }),
  ];
}

function estimateBlocks({ estimates, timeConstant }: RecordingDetail, quoting: Quoting): Block[] {
  if (estimates.length === 0) return [];
  const table: DocumentTable = {
    caption: null,
    columns: [
      { title: 'method', align: 'start' },
      { title: 'time constant / s', align: 'decimal' },
      { title: 'standard uncertainty / s', align: 'decimal' },
      { title: '95 % interval / s', align: 'end' },
      { title: 'classroom value ± standard error / s', align: 'end' },
    ],
    rows: estimates.map(({ method, value, standardUncertainty, interval, classroom }) => {
      const [shown, uncertainty] = quotedPair(value, standardUncertainty, quoting);
      return [
        method === timeConstant?.method
          ? [{ kind: 'strong', text: methodWords[method] }]
          : methodWords[method],
        shown,
        uncertainty,
        quotedBeside(value, standardUncertainty, interval, quoting),
        classroom === null ? '' : classroomWords(classroom, quoting),
      ];
    }),
  };
  const figure = intervalFigure(estimates, timeConstant?.method ?? null, {
    document: drawingBoard(),
    theme: paperTheme,
    width: 700,
  });
  return [
    { kind: 'heading', level: 1, text: 'Estimates' },
    { kind: 'table', table },
    {
      kind: 'paragraph',
      text: 'What a classroom prints takes neighbouring readings as independent and the ambient as known; it covers the true value far more seldom than it claims.',
    },
    {
      kind: 'figure',
      figure: drawing(
        figure,
        'The estimates with their 95 % intervals.',
        intervalTable(estimates, timeConstant?.method ?? null),
      ),
    },
  ];
}

function classroomWords(
  { value, standardError }: { value: number; standardError: number | null },
  quoting: Quoting,
): string {
  return standardError === null || standardError === 0
    ? formatSignificant(value, 4)
    : quoted(value, standardError, '', quoting);
}

function budgetBlocks({ budget, timeConstant }: RecordingDetail): Block[] {
  if (budget.length === 0 || timeConstant === null) return [];
  const lines = budget.map(({ label, contribution, share }) => [
    label,
    formatSignificant(contribution, 2),
    shareWords(share),
  ]);
  return [
    { kind: 'heading', level: 1, text: 'What the uncertainty is made of' },
    { kind: 'figure', figure: drawing(budgetFigure(budget, { theme: paperTheme, width: 700 }), null, null) },
    {
      kind: 'table',
      table: {
        caption: null,
        columns: [
          { title: 'source', align: 'start' },
          { title: 'standard uncertainty / s', align: 'decimal' },
          { title: 'share of the variance', align: 'end' },
        ],
        rows: lines,
      },
    },
    {
      kind: 'paragraph',
      text: 'Combined by JCGM 100:2008, equation 10. One recording cannot show how much the jet differs from trial to trial: repeats do.',
    },
  ];
}

function predictionBlocks({ prediction, timeConstant }: RecordingDetail, quoting: Quoting): Block[] {
  if (prediction === null) return [];
  const { sentence } = prediction;
  const expected = quotedInterval(prediction.timeConstant, prediction.interval, quoting);
  return [
    { kind: 'heading', level: 1, text: 'Measured and predicted' },
    {
      kind: 'facts',
      rows: [
        ...(timeConstant === null
          ? []
          : ([['measured', quotedResult(timeConstant, timeConstant.coverage, quoting)]] satisfies [
              string,
              string,
            ][])),
        ['predicted', `${expected.value} s, 95 % interval ${expected.interval} s`],
      ],
    },
    { kind: 'paragraph', text: paperWords(sentence) },
  ];
}

function decisionBlocks({ decisions }: RecordingDetail): Block[] {
  if (decisions.length === 0) return [];
  return [
    { kind: 'heading', level: 1, text: 'Decided by hand' },
    {
      kind: 'table',
      table: {
        caption: null,
        columns: [
          { title: 'when', align: 'start' },
          { title: 'who', align: 'start' },
          { title: 'what', align: 'start' },
          { title: 'why', align: 'start', share: 1 },
          { title: 'counts', align: 'start' },
        ],
        rows: decisions.map(({ at, who, kind, why, applies }) => [
          at.replace('T', ' ').slice(0, 16),
          who,
          decisionWords[kind],
          why,
          applies ? 'yes' : 'no',
        ]),
      },
    },
  ];
}

const decisionWords: Readonly<Record<RecordingDetail['decisions'][number]['kind'], string>> = {
  marks: 'marks moved',
  reading: 'read in another way',
  reject: 'rejected',
  undo: 'taken back',
};

function computedBlocks(detail: RecordingDetail, origin: Origin, quoting: Quoting): Block[] {
  const { read, file, ambient, noise, fingerprint } = detail;
  const rows: [string, string][] = [
    ['file', `${file.name}, ${file.bytes} bytes`],
    ['SHA-256', hashWords(file.sha256)],
    [
      'read as',
      `${read.samples} readings at ${formatSignificant(read.rate, 4)} Hz; ${read.dialect}; channel ${read.channel}`,
    ],
    ['in degrees', read.conversion],
  ];
  if (ambient !== null) {
    rows.push([
      'ambient',
      `${quoted(ambient.value, ambient.standardUncertainty, '°C', quoting)} (standard uncertainty). ${ambient.reason}`,
    ]);
  }
  if (noise !== null) rows.push(['noise', noise]);
  if (fingerprint !== null) rows.push(['the estimates together', fingerprint]);
  rows.push(
    ['version', `Emberline ${origin.version}`],
    ['experiment file', `SHA-256 ${hashWords(origin.experimentHash)}`],
  );
  return [
    { kind: 'heading', level: 1, text: 'How it was computed' },
    {
      kind: 'paragraph',
      text: 'One exponential is fitted to block means by least squares, with the ambient tied to the baseline as firmly as that is known; the noise of the residuals is described as an ARMA(1,1) process, so that neighbouring readings are not counted as independent.',
    },
    {
      kind: 'formula',
      tex: 'T(t) = a + c\\,(t - t_b) + B\\,e^{-(t - t_s)/\\tau}',
      plain: 'T(t) = a + c (t − t_b) + B exp(−(t − t_s)/τ)',
      source:
        'least squares with what is known beforehand; variable projection: Golub & Pereyra, SIAM J. Numer. Anal. 10 (1973) 413',
    },
    { kind: 'facts', rows },
  ];
}
