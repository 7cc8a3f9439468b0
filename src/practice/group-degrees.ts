import type { ThermocoupleType } from '../sensing/index.ts';
import type { BenchReadings } from './bench-types.ts';
import { emfAt } from './emf.ts';
import type { SheetPlan } from './group-slips.ts';

const perVolt = { V: 1, mV: 1e3, uV: 1e6 } as const;
/** Ends and step of the table that a group looks degrees up in, °C. */
const table = { from: -50, to: 390, step: 2 };

/** What a group has in its column of readings: degrees on its scale, or volts. */
export function shownDegrees({ logged, trial }: BenchReadings, scale: SheetPlan['scale']): Float64Array {
  const { output } = trial.chain;
  if (output.kind === 'degrees') {
    return logged.map((value) => onScale(celsiusFrom(value, output.unit), scale));
  }
  const volts = logged.map((value) => value / perVolt[output.unit]);
  if (scale === 'volts') return volts;
  const type = scale === 'type J' ? 'J' : scale === 'type K' ? 'K' : output.type;
  const lookUp = degreesOf(type);
  const added = output.compensated ? 0 : emfAt(type, output.reference);
  return volts.map((value) => onScale(lookUp((value - output.zero) / output.gain + added), scale));
}

function celsiusFrom(value: number, unit: 'degC' | 'degF' | 'K'): number {
  if (unit === 'degF') return (value - 32) / 1.8;
  return unit === 'K' ? value - 273.15 : value;
}

function onScale(celsius: number, scale: SheetPlan['scale']): number {
  if (scale === 'fahrenheit') return 1.8 * celsius + 32;
  return scale === 'kelvin' ? celsius + 273.15 : celsius;
}

/** Degrees from volts on straight lines between the values of a table. */
function degreesOf(type: ThermocoupleType): (emf: number) => number {
  const count = (table.to - table.from) / table.step + 1;
  const emfs = Float64Array.from({ length: count }, (_, i) => emfAt(type, table.from + i * table.step));
  return (emf) => {
    let low = 0;
    let high = count - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((emfs[middle] ?? 0) <= emf) low = middle;
      else high = middle;
    }
    const [a, b] = [emfs[low] ?? 0, emfs[high] ?? 1];
    return table.from + table.step * (low + (emf - a) / (b - a));
  };
}
