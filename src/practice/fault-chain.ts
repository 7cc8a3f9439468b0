import type { ThermocoupleType } from '../sensing/index.ts';
import type { SimulatedOutput } from './bench-types.ts';
import { dialects } from './dialect.ts';
import { emfAt } from './emf.ts';
import type { FaultBasis, TrialFault } from './fault-types.ts';
import { type Draws, roundedDraw } from './labelled-draws.ts';

/* Faults of amplifier, logger and file, each so large that one who knows the experiment would call it a fault. */

/** The upper half to fifth of the step is lost; what is left of the cooling can still be fitted. */
const clipped: TrialFault = {
  name: 'clipped',
  about: 'the range of the logger ends at 50 to 80 % of the step',
  apply({ trial, facts }, draws) {
    const { output } = trial.chain;
    const at = roundedDraw(facts.ambient + (facts.aim - facts.ambient) * draws.between(0.5, 0.8));
    return {
      ok: true,
      trial: { ...trial, chain: { ...trial.chain, output: withEnd(output, at) } },
      numbers: { 'range ends at, degC': at },
    };
  },
};

/** A converter that keeps its step while its range ends at a temperature, °C. */
function withEnd(output: SimulatedOutput, at: number): SimulatedOutput {
  if (output.kind === 'degrees') return { ...output, range: { from: -50, to: at } };
  const { type, reference, gain, zero, range, bits } = output;
  const to = roundedDraw(zero + gain * (emfAt(type, at) - emfAt(type, reference)));
  const from = Math.min(range?.from ?? -Math.abs(to), to - Math.abs(to));
  if (range === null || bits === null) return { ...output, range: { from, to }, bits };
  const step = (range.to - range.from) / 2 ** bits;
  return { ...output, range: { from, to }, bits: Math.max(1, Math.round(Math.log2((to - from) / step))) };
}

/** The base metal types that are plugged into one another's sockets. */
const common: readonly ThermocoupleType[] = ['E', 'J', 'K', 'N', 'T'];
/** Smallest relative difference of the emf at the peak that nobody overlooks. */
const clearDifference = 0.12;

/**
 * A logger in degrees was set to another type. In volts the logger knows no type: there the junction itself is of
 * another type than the file says, which shows in the same way.
 */
const wrongThermocouple: TrialFault = {
  name: 'wrong-thermocouple',
  about:
    'logger set to another type, or where volts are logged a junction of another type: off by 12 % or more',
  apply(basis, draws) {
    const { trial } = basis;
    const { output } = trial.chain;
    const junction = output.kind === 'volts' ? output.type : (basis.thermocouple ?? 'K');
    const other = otherType(junction, basis, draws);
    if (other === null) return { ok: false, why: 'no common type differs enough from that of the file' };
    if (output.kind === 'volts') {
      return {
        ok: true,
        trial: { ...trial, chain: { ...trial.chain, output: { ...output, type: other } } },
        numbers: { 'junction is of type': other, 'file says type': junction },
      };
    }
    return {
      ok: true,
      trial: {
        ...trial,
        chain: {
          ...trial.chain,
          output: { ...output, mistaken: { junction, setTo: other, terminals: basis.facts.ambient } },
        },
      },
      numbers: { 'junction is of type': junction, 'logger set to type': other },
    };
  },
};

function otherType(junction: ThermocoupleType, { facts }: FaultBasis, draws: Draws): ThermocoupleType | null {
  const span = (type: ThermocoupleType) => emfAt(type, facts.aim) - emfAt(type, facts.ambient);
  const own = span(junction);
  const others = common.filter((type) => Math.abs(span(type) / own - 1) >= clearDifference);
  return others[draws.index(others.length)] ?? null;
}

/** A slip of a factor of two or ten: what a menu or a decimal point makes. */
const wrongRate: TrialFault = {
  name: 'wrong-rate',
  about: 'the file states a rate that is a tenth, half, twice or ten times the true one',
  apply({ trial }, draws) {
    const { dialect } = trial.logger;
    if (!(dialects.find(({ name }) => name === dialect)?.statesRate ?? false)) {
      return { ok: false, why: 'the files of its bench state no rate' };
    }
    const factor = [0.1, 0.5, 2, 10][draws.index(4)] ?? 10;
    const statedRate = roundedDraw(trial.logger.rate * factor);
    return {
      ok: true,
      trial: { ...trial, logger: { ...trial.logger, statedRate } },
      numbers: { 'stated rate, Hz': statedRate, 'true rate, Hz': trial.logger.rate },
    };
  },
};

const resaved: TrialFault = {
  name: 'spreadsheet-resaved',
  about: 'a spreadsheet opened and saved the file: decimal commas, few decimals',
  apply({ trial }) {
    return { ok: true, trial: { ...trial, logger: { ...trial.logger, resaved: true } }, numbers: {} };
  },
};

export const faultsOfTheChain: readonly TrialFault[] = [clipped, wrongThermocouple, wrongRate, resaved];
