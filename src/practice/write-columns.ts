import type { BenchReadings, BenchTrial } from './bench-types.ts';
import { outputLimits } from './chain.ts';
import type { Layout, Words } from './dialect-types.ts';
import { addCorrelatedNoise } from './noise.ts';
import { streamsOf } from './streams.ts';
import { clockColumns } from './write-clock.ts';
import type { Column } from './write-column.ts';
import { resavedDecimals, timeDecimals, valueDecimals } from './write-decimals.ts';
import type { ByteSink } from './write-sink.ts';

const unitTexts = {
  symbols: { degC: '°C', degF: '°F', K: 'K', V: 'V', mV: 'mV', uV: 'µV' },
  letters: { degC: 'degC', degF: 'degF', K: 'K', V: 'V', mV: 'mV', uV: 'uV' },
} as const;

/** Unit of the readings as the layout writes it. */
export function unitText(trial: BenchTrial, layout: Layout): string {
  return unitTexts[layout.units][trial.chain.output.unit];
}

/** The columns of a recording, in order, but for the row number that no header names. */
export function writtenColumns(readings: BenchReadings, layout: Layout): readonly Column[] {
  const sensor = sensorColumn(readings, layout);
  const second = secondColumn(readings, layout);
  const times = timeColumns(readings, layout);
  if (second === null) return [...times, sensor];
  return layout.second?.place === 'before' ? [...times, second, sensor] : [...times, sensor, second];
}

/** Decimals that a spreadsheet leaves of a time. */
const resavedTimeDecimals = 2;
/** What a tie may fall short of itself by rounding, in units of the last decimal. */
const tieSlack = 1e-6;

function timeColumns({ trial }: BenchReadings, layout: Layout): readonly Column[] {
  const { time, timeName } = layout;
  const { rate, resaved } = trial.logger;
  const mark = layout.decimal.charCodeAt(0);
  if (time.kind === 'none') return [];
  if (time.kind === 'sample') {
    const label = { name: timeName, unit: null, comment: 'counted from 1' };
    return [{ label, write: (sink, _, since) => sink.whole(since + 1) }];
  }
  if (time.kind === 'clock') return clockColumns(trial, layout, time);
  const own = timeDecimals(rate, time.perSecond);
  const decimals = resaved ? Math.min(own, resavedTimeDecimals) : own;
  const label = { name: timeName, unit: time.unit, comment: 'from the start' };
  const perSecond = time.perSecond * 10 ** decimals;
  return [
    {
      label,
      // Rounded as a decimal is rounded by hand: the ties of binary fractions would fall either way.
      write: (sink, _, since) =>
        sink.fixed(Math.floor((since * perSecond) / rate + 0.5 + tieSlack) / 10 ** decimals, decimals, mark),
    },
  ];
}

function sensorColumn(readings: BenchReadings, layout: Layout): Column {
  const { trial, logged } = readings;
  const own = valueDecimals(trial);
  const decimals = trial.logger.resaved ? resavedDecimals(logged, own) : own;
  const mark = layout.decimal.charCodeAt(0);
  const label = { name: layout.sensorName, unit: unitText(trial, layout), comment: 'input 1' };
  const { words } = layout;
  if (words === null) {
    return { label, write: (sink, row) => sink.fixed(logged[row] ?? Number.NaN, decimals, mark) };
  }
  const wordOf = wordsFor(readings, words, layout);
  return {
    label,
    write: (sink, row) => {
      const word = wordOf(row);
      if (word === null) sink.fixed(logged[row] ?? Number.NaN, decimals, mark);
      else sink.ascii(word);
    },
  };
}

/** Readings that are lost in a recording. */
const losses = 3;

/** Words in place of readings at the ends of the range, and of a few that are lost at random. */
function wordsFor(readings: BenchReadings, words: Words, layout: Layout): (row: number) => string | null {
  const { trial, logged } = readings;
  const limits = outputLimits(trial.chain.output);
  const random = streamsOf(trial.seed)('lost readings');
  const lost = new Set(Array.from({ length: losses }, () => Math.floor(random.uniform() * logged.length)));
  const marked = (word: string) => word.replace('.', layout.decimal);
  return (row) => {
    const value = logged[row] ?? Number.NaN;
    if (limits !== null && value >= limits.high) return marked(words.over);
    if (limits !== null && value <= limits.low) return marked(words.under);
    return lost.has(row) ? marked(words.lost) : null;
  };
}

/** Slow wander of a terminal block in a room, K and s. */
const terminalWander = { standardDeviation: 0.05, correlationTime: 60 } as const;
/** How much warmer than the room the terminals of a logger are, K. */
const terminalExcess = 1.5;
const referenceDecimals = 2;
const mainsCyclesBefore = 98_765;

function secondColumn({ trial, logged }: BenchReadings, layout: Layout): Column | null {
  if (layout.second === null) return null;
  const mark = layout.decimal.charCodeAt(0);
  const { rate } = trial.logger;
  if (layout.second.kind === 'cycles') {
    const perRow = trial.chain.hum.frequency / rate;
    const label = { name: 'Cycle count', unit: null, comment: 'mains cycles' };
    const grouped = layout.decimal === '.';
    return {
      label,
      write: (sink, row) => {
        const cycles = mainsCyclesBefore + Math.floor(row * perRow + 1e-9);
        if (grouped) writeGrouped(sink, cycles);
        else sink.whole(cycles);
      },
    };
  }
  const { output } = trial.chain;
  const mean = output.kind === 'volts' ? output.reference : trial.air.ambient + terminalExcess;
  const values = new Float64Array(logged.length).fill(mean);
  addCorrelatedNoise(values, 1 / rate, terminalWander, streamsOf(trial.seed)('reference junction'));
  const label = {
    name: 'Reference junction',
    unit: unitTexts[layout.units].degC,
    comment: 'terminal block',
  };
  return { label, write: (sink, row) => sink.fixed(values[row] ?? Number.NaN, referenceDecimals, mark) };
}

/** A whole number with commas between thousands. */
function writeGrouped(sink: ByteSink, value: number): void {
  const thousands = Math.floor(value / 1000);
  if (thousands === 0) {
    sink.whole(value);
    return;
  }
  writeGrouped(sink, thousands);
  sink.ascii(',');
  sink.whole(value - 1000 * thousands, 3);
}
