import { formatSignificant } from '../quantity/index.ts';
import type { Chain, ThermocoupleChain, ToleratedSensor } from './chain.ts';
import { thermocoupleZero } from './zero.ts';

/** One sentence on how readings became degrees. */
export function describeChain(chain: Chain): string {
  switch (chain.kind) {
    case 'degrees': {
      const how = 'The channel was logged in degrees and taken as it is';
      if (chain.tolerance !== undefined) return `${how}; the sensor is a ${sensorName(chain.tolerance)}.`;
      if (chain.accuracy !== undefined) return `${how}.`;
      return `${how}; nothing is known of the sensor's accuracy, and nothing is counted for it.`;
    }
    case 'thermocouple':
      return describeThermocouple(chain);
    case 'resistance': {
      const tolerance =
        chain.toleranceClass === undefined ? ' and no stated class' : `, class ${chain.toleranceClass},`;
      return `Resistance of a platinum sensor of ${chain.nominal} ohm${tolerance} by the equations of IEC 60751.`;
    }
    case 'linear':
      return `Volts by a straight line: ${formatSignificant(chain.slope, 6)} K/V, ${formatSignificant(chain.offset, 6)} °C at 0 V.`;
  }
}

function describeThermocouple(chain: ThermocoupleChain): string {
  const { junction } = chain;
  const tolerance =
    chain.toleranceClass === undefined ? ' of no stated class' : `, class ${chain.toleranceClass}`;
  const end =
    junction.kind === 'ice'
      ? 'at the ice point'
      : junction.kind === 'fixed'
        ? `at ${formatSignificant(junction.temperature, 4)} °C`
        : `as recorded in column ${junction.column}`;
  const zero = thermocoupleZero(chain).volts;
  const source = typeof chain.zero === 'number' ? '' : ` from ${chain.zero.name}`;
  const amplifier =
    chain.gain === 1 && zero === 0
      ? ''
      : `, gain ${formatSignificant(chain.gain, 6)}, zero ${formatSignificant(zero * 1e3, 4)} mV${source}`;
  return `Type ${chain.type} thermocouple${tolerance} by its ITS-90 reference function, reference junction ${end}${amplifier}.`;
}

function sensorName(tolerated: ToleratedSensor): string {
  return tolerated.sensor === 'thermocouple'
    ? `type ${tolerated.type} thermocouple of class ${tolerated.class}`
    : `platinum sensor of class ${tolerated.class}`;
}
