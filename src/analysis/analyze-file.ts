import { type Decay, type DecaySettings, finishDecay, prepareDecay } from '../decay/index.ts';
import { type Progress, type RecordingFile, readRecordingFile, readSamples } from '../recording/files.ts';
import { BlockAssembler, type ReadOptions, type Recording } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import { type Chain, type Trace, toTrace } from '../sensing/index.ts';
import { chainFor, type SensorSettings } from './sensor.ts';

/** A recording file from its bytes to its time constant. */
export interface AnalyzedFile {
  readonly recording: RecordingFile;
  readonly trace: Trace;
  readonly decay: Decay;
}

/** How files are to be read and judged. */
export interface AnalysisRequest {
  readonly read: ReadOptions;
  readonly chain: SensorSettings;
  readonly settings: DecaySettings;
  /** With the amplifier's input shorted. */
  readonly zero: Recording | null;
}

/** Most single readings that are read again about one point. */
const mostReadings = 20_000;

/**
 * Reads and analyzes one file.
 *
 * @throws RecordingError where it cannot be read; SensorError, ChainError where unit and sensor do not fit
 */
export async function analyzeFile(
  path: string,
  request: AnalysisRequest,
  onProgress?: Progress,
): Promise<AnalyzedFile> {
  const { junction } = request.chain;
  const companions = junction?.kind === 'channel' ? { companions: [junction.name] } : {};
  const read = await readRecordingFile(path, { ...request.read, ...companions }, onProgress);
  const recording = withSensorUnit(read, request.chain);
  const chain = chainFor(recording, request.chain, request.zero);
  const trace = toTrace(recording, chain);
  const prepared = prepareDecay(trace, request.settings);
  const stretches = await Promise.all(
    prepared.readingsWanted.map((span) => readingsOf(recording, chain, span)),
  );
  const decay = finishDecay(prepared, ({ from, to }) => {
    const found = stretches.find(({ span }) => span.from === from && span.to === to);
    return found?.readings ?? { time: [], value: [] };
  });
  return { recording, trace, decay };
}

/** A resistance sensor that was named leaves no choice of unit where the file says none. */
function withSensorUnit(recording: RecordingFile, { resistance }: SensorSettings): RecordingFile {
  const { channel } = recording;
  if (channel.unit !== null || resistance === null) return recording;
  return { ...recording, channel: { ...channel, unit: 'ohm' } };
}

/** Single readings of a stretch in °C. */
async function readingsOf(recording: RecordingFile, chain: Chain, span: Span) {
  const samples = await readSamples(recording, span.from, span.to, mostReadings);
  const assembler = new BlockAssembler(1 / recording.rate);
  for (const [i, time] of samples.time.entries()) assembler.add(time, samples.value[i] ?? Number.NaN);
  const trace = toTrace({ ...recording, blocks: assembler.blocks() }, chain);
  return { span, readings: { time: trace.blocks.time, value: trace.blocks.mean } };
}
