import type { Decay } from '../decay/index.ts';
import { compareCondition, type PredictedCondition } from '../experiment/index.ts';
import { sparse } from '../figure/index.ts';
import type { Decision, Marks } from '../store/index.ts';
import type { AnalyzedFile } from './analyze-file.ts';
import { residualCorrelation } from './correlation.ts';
import { noiseWords } from './noise-words.ts';
import { thinBlocks } from './thin-blocks.ts';
import { traceFigureData } from './trace-data.ts';
import type { RecordingDetail, RecordingSummary, StatedFigure } from './types.ts';
import { dialectWords } from './words.ts';

/** Most points of a curve in a detail. */
const mostPoints = 2000;

/** What a detail is put together from. */
export interface DetailParts {
  readonly summary: RecordingSummary;
  readonly part: AnalyzedDetail;
  readonly timeConstant: Decay['timeConstant'];
  readonly predicted: PredictedCondition | null;
  readonly decisions: Decision[];
}

/** What the analysis of a recording tells by itself, whatever it is held against. Plain data. */
export type AnalyzedDetail = Omit<RecordingDetail, keyof RecordingSummary | 'prediction' | 'decisions'>;

/** Everything that there is to show of one recording. */
export function recordingDetail({
  summary,
  part,
  timeConstant,
  predicted,
  decisions,
}: DetailParts): RecordingDetail {
  const prediction = predicted === null ? null : statedPrediction(predicted, timeConstant);
  return { ...summary, ...part, prediction, decisions };
}

/**
 * What an analysis tells.
 *
 * @param path of the recording from the experiment folder
 * @param found marks as they are found without a person's
 */
export function analyzedDetail(path: string, analyzed: AnalyzedFile, found: Marks): AnalyzedDetail {
  const { recording, trace, decay } = analyzed;
  const { ambient, adequacy } = decay;
  const points = decay.points.filter(({ residual, band }) => Number.isFinite(residual + band));
  return {
    file: { sha256: recording.sha256, bytes: recording.bytes, name: path.split('/').at(-1) ?? '' },
    read: {
      samples: recording.samples,
      rate: recording.rate,
      dialect: dialectWords(recording),
      channel: recording.channel.name,
      unit: recording.channel.unit,
      conversion: trace.described,
    },
    figure: statedFigure(path, analyzed),
    residuals: sparse(points, mostPoints).map(({ time, residual, band }) => ({ time, residual, band })),
    correlation: residualCorrelation(points.map(({ residual }) => residual)),
    estimates: decay.estimates.map(statedEstimate),
    ambient: ambient === null ? null : { ...ambient },
    endFraction: decay.endFraction,
    adequacy: adequacy === null ? null : { firstOrder: adequacy.firstOrder, sentence: adequacy.sentence },
    fingerprint: decay.fingerprint?.sentence ?? null,
    noise: noiseWords(decay),
    budget: [...decay.budget],
    remarks: [...decay.remarks],
    found,
    used: marksUsed(analyzed),
    heatings: [...decay.segments.heatings],
  };
}

/** Where an analysis cut the recording. */
export function marksUsed({ decay, heatingUsed }: AnalyzedFile): Marks {
  const { baseline, cooling } = decay.segments;
  return { baseline, cooling, heating: heatingUsed };
}

function statedFigure(name: string, analyzed: AnalyzedFile): StatedFigure {
  const data = traceFigureData(analyzed);
  const thin = thinBlocks(analyzed.trace.blocks);
  const { timeConstant, segments } = data;
  return {
    name,
    headline: data.headline,
    verdict: data.verdict,
    time: thin.time.map((time) => rounded(time, 1e6)),
    temperature: thin.value.map((value) => rounded(value, 1e4)),
    envelope: {
      low: thin.low.map((value) => rounded(value, 1e4)),
      high: thin.high.map((value) => rounded(value, 1e4)),
    },
    segments: {
      baseline: segments.baseline,
      heating: segments.heating,
      hotTail: segments.hotTail,
      cooling: segments.cooling,
      window: segments.window,
      heatOff: segments.heatOff,
      peak: segments.peak,
    },
    ambient: data.ambient,
    fit: data.fit,
    timeConstant:
      timeConstant === null ? null : { value: timeConstant.value, interval: pair(timeConstant.interval) },
    limits: pair(data.limits),
    points: [...sparse(data.points, mostPoints)],
    remarks: [...analyzed.decay.remarks],
  };
}

/** Finer than any converter; shorter to send. */
function rounded(value: number, parts: number): number {
  return Math.round(value * parts) / parts;
}

function pair([low, high]: readonly [number, number]): [number, number] {
  return [low, high];
}

function statedEstimate(estimate: Decay['estimates'][number]): RecordingDetail['estimates'][number] {
  const { method, value, standardUncertainty, interval, classroom } = estimate;
  return {
    method,
    value,
    standardUncertainty,
    interval: pair(interval),
    classroom:
      classroom === null
        ? null
        : {
            value: classroom.value,
            standardError: classroom.standardError,
            interval: classroom.interval === null ? null : pair(classroom.interval),
          },
  };
}

function statedPrediction(
  predicted: PredictedCondition,
  timeConstant: Decay['timeConstant'],
): RecordingDetail['prediction'] {
  if (!predicted.ok) return null;
  const expected = predicted.prediction.timeConstant;
  return {
    timeConstant: expected.value,
    interval: openEnded(expected.interval),
    sentence:
      timeConstant === null
        ? 'There is no measured time constant to hold against it.'
        : compareCondition(timeConstant, expected).sentence,
  };
}

/** An interval without its upper end where it has none. */
export function openEnded([low, high]: readonly [number, number]): [number, number | null] {
  return [low, Number.isFinite(high) ? high : null];
}
