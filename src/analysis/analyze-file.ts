import { openRecordingFile } from '../archive/index.ts';
import { type Decay, type DecaySettings, finishDecay, prepareDecay } from '../decay/index.ts';
import { type Progress, type RecordingFile, readSamples } from '../recording/files.ts';
import { BlockAssembler, type ReadOptions, type Recording } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import { type Chain, type Trace, toTrace } from '../sensing/index.ts';
import { chainFor, type SensorSettings } from './sensor.ts';

/** A recording file in degrees. */
export interface OpenedFile {
  readonly recording: RecordingFile;
  readonly chain: Chain;
  readonly trace: Trace;
}

/** A recording file from its bytes to its time constant. */
export interface AnalyzedFile {
  readonly recording: RecordingFile;
  readonly trace: Trace;
  readonly decay: Decay;
  /** Which of the heatings was taken, counted from 1; null where none was. */
  readonly heatingUsed: number | null;
}

/** How files are to be read. */
export interface OpenRequest {
  readonly read: ReadOptions;
  readonly chain: SensorSettings;
  /** With the amplifier's input shorted. */
  readonly zero: Recording | null;
}

/** How files are to be read and judged. */
export interface AnalysisRequest extends OpenRequest {
  readonly settings: DecaySettings;
}

/** Most single readings that are read again about one point. */
const mostReadings = 20_000;

/**
 * Reads and analyzes one file.
 *
 * @param onProgress told now and then how many bytes have been read
 * @param second module of the thread that helps with a large file; without it, one thread reads
 * @throws RecordingError where it cannot be read; SensorError, ChainError where unit and sensor do not fit
 */
export async function analyzeFile(
  path: string,
  request: AnalysisRequest,
  onProgress?: Progress,
  second?: URL | null,
): Promise<AnalyzedFile> {
  return analyzeOpened(await openRecording(path, request, onProgress, second), request.settings);
}

/**
 * Reads a file, a text or one of an archive, and turns it into degrees.
 *
 * @param onProgress told now and then how many bytes have been read
 * @param second module of the thread that helps with a large text; without it, one thread reads
 * @throws RecordingError where it cannot be read; SensorError, ChainError where unit and sensor do not fit
 */
export async function openRecording(
  path: string,
  request: OpenRequest,
  onProgress?: Progress,
  second?: URL | null,
): Promise<OpenedFile> {
  const recording = await openRecordingFile(path, readOptionsFor(request), onProgress, second);
  return recordingInDegrees(recording, request);
}

/** How a file is to be read so that everything that its sensor needs is read, too. */
export function readOptionsFor({ read, chain: { junction } }: OpenRequest): ReadOptions {
  return junction?.kind === 'channel' ? { ...read, companions: [junction.name] } : read;
}

/**
 * Turns a recording into degrees.
 *
 * @param read by the options of `readOptionsFor`
 * @throws SensorError, ChainError where unit and sensor do not fit
 */
export function recordingInDegrees<Read extends Recording>(
  read: Read,
  request: OpenRequest,
): { readonly recording: Read; readonly chain: Chain; readonly trace: Trace } {
  const recording = withSensorUnit(read, request.chain);
  const chain = chainFor(recording, request.chain, request.zero);
  return { recording, chain, trace: toTrace(recording, chain) };
}

/**
 * Analyzes a file that was read before; single readings are read again where block means are too coarse.
 *
 * @throws RecordingError where the file is not there any more
 */
export async function analyzeOpened(opened: OpenedFile, settings: DecaySettings): Promise<AnalyzedFile> {
  const { recording, trace } = opened;
  const prepared = prepareDecay(trace, settings);
  const stretches = await Promise.all(
    prepared.readingsWanted.map(async (span) => {
      return { span, readings: await readingsWithin(opened, span, mostReadings) };
    }),
  );
  const decay = finishDecay(prepared, ({ from, to }) => {
    const found = stretches.find(({ span }) => span.from === from && span.to === to);
    return found?.readings ?? { time: [], value: [] };
  });
  return { recording, trace, decay, heatingUsed: prepared.segmentation.heatingUsed };
}

/** A resistance sensor that was named leaves no choice of unit where the file says none. */
function withSensorUnit<Read extends Recording>(recording: Read, { resistance }: SensorSettings): Read {
  const { channel } = recording;
  if (channel.unit !== null || resistance === null) return recording;
  return { ...recording, channel: { ...channel, unit: 'ohm' } };
}

/**
 * Single readings of a stretch in °C.
 *
 * @param most readings to return, at most 100 000
 * @throws RecordingError where the file is not there any more
 */
export async function readingsWithin({ recording, chain }: OpenedFile, span: Span, most: number) {
  const samples = await readSamples(recording, span.from, span.to, most);
  const assembler = new BlockAssembler(1 / recording.rate);
  for (const [i, time] of samples.time.entries()) assembler.add(time, samples.value[i] ?? Number.NaN);
  const trace = toTrace({ ...recording, blocks: assembler.blocks() }, chain);
  return { time: trace.blocks.time, value: trace.blocks.mean };
}
