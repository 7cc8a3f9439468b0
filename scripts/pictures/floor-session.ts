/** A session for the pictures of the bench floor: simulated trials at chosen moments, whose loggers go on writing. */
import { appendFileSync, mkdirSync, utimesSync } from 'node:fs';
import { dirname, join } from 'node:path';
import {
  type FaultName,
  type PracticeRecording,
  practiceSet,
  simulateRecording,
} from '../../src/practice/index.ts';
import { readExperiment } from '../../src/store/index.ts';

/** What is to be seen of a bench of section A. */
export interface BenchMoment {
  readonly bench: string;
  /** Trials that are done. */
  readonly done: number;
  /** Part of the next trial that is recorded; null where none has begun. */
  readonly part: number | null;
  /** What is wrong with the trial that is recorded. */
  readonly fault?: FaultName;
}

/** One logger in the middle of its trial. */
interface Writing {
  readonly file: string;
  readonly readings: Float64Array;
  written: number;
}

/** Of the loggers, Hz: enough for a picture. */
const rate = 20;
/** Trials follow each other by so much, s. */
const apart = 240;

/**
 * Lays the recordings of a session into an experiment folder.
 *
 * @param now ms since 1970 (UTC)
 * @returns appends what the loggers record in a time, s
 */
export async function beginSession(
  folder: string,
  moments: readonly BenchMoment[],
  now: number,
): Promise<(time: number) => void> {
  const experiment = await readExperiment(folder);
  // With a gain the loggers hold what its amplifier gives.
  const unit = experiment.sensor.gain === undefined ? 'degC' : 'V';
  const trialsOf = (bench: string, fault: FaultName | null) => {
    const [group] = Object.entries(experiment.groups).find(([, one]) => one.bench === bench) ?? [null];
    const { recordings } = practiceSet(experiment, {
      seed: 'floor',
      groups: null,
      repeats: null,
      conditions: null,
      rate,
      faults: fault === null ? [] : [{ name: fault, group }],
      faultShare: 0,
      date: '2026-03-02',
      exercise: false,
    });
    return recordings.filter((one) => one.group.code === group);
  };
  const writing: Writing[] = [];
  for (const { bench, done, part, fault = null } of moments) {
    const trials = trialsOf(bench, fault);
    const spoiled = trials.find(({ faults }) => faults.length > 0);
    const sound = trials.filter((one) => one !== spoiled);
    for (const [i, trial] of sound.slice(0, done).entries()) {
      const file = begin(folder, trial, unit);
      append(file, readingsOf(trial), 0, Number.POSITIVE_INFINITY);
      const at = now / 1000 - (done - i) * apart;
      utimesSync(file, at, at);
    }
    const next = spoiled ?? sound[done];
    if (part === null || next === undefined) continue;
    const readings = readingsOf(next);
    const file = begin(folder, next, unit);
    const written = Math.round(part * readings.length);
    append(file, readings, 0, written);
    writing.push({ file, readings, written });
  }
  return (time) => {
    for (const one of writing) {
      const until = Math.min(one.readings.length, one.written + Math.round(time * rate));
      append(one.file, one.readings, one.written, until);
      one.written = until;
    }
  };
}

function readingsOf({ source }: PracticeRecording): Float64Array {
  return simulateRecording(source.trial).logged;
}

/** A file with its head. */
function begin(folder: string, { path }: PracticeRecording, unit: string): string {
  const file = join(folder, path);
  mkdirSync(dirname(file), { recursive: true });
  appendFileSync(file, `Time (s)\tJunction (${unit})\r\n`);
  return file;
}

function append(file: string, readings: Float64Array, from: number, to: number): void {
  let text = '';
  for (let i = from; i < Math.min(to, readings.length); i++) {
    text += `${(i / rate).toFixed(2)}\t${(readings[i] ?? 0).toFixed(4)}\r\n`;
  }
  if (text !== '') appendFileSync(file, text);
}
