/** What a unit measures. Differences of temperature have a dimension of their own: 10 °F is one or the other. */
export type Dimension =
  | 'length'
  | 'mass'
  | 'time'
  | 'frequency'
  | 'speed'
  | 'flow'
  | 'pressure'
  | 'temperature'
  | 'temperature-difference'
  | 'temperature-rate'
  | 'voltage'
  | 'thermoelectric'
  | 'resistance'
  | 'density'
  | 'specific-heat'
  | 'conductivity'
  | 'heat-transfer-coefficient'
  | 'ratio';

/** A unit as it is read and printed. */
export interface Unit {
  readonly dimension: Dimension;
  /** Symbol for print (ISO 80000). */
  readonly symbol: string;
  /** Value in SI = factor × (number + offset). */
  readonly factor: number;
  readonly offset: number;
  /** What people type, the form to recommend first. Case matters: mV is not MV. */
  readonly spellings: readonly string[];
}

/** One line of the table: symbol, factor to SI, spellings separated by blanks (`_` stands for a blank inside). */
type Line = readonly [symbol: string, factor: number, spellings: string, offset?: number];

const inch = 0.0254;
const foot = 0.3048;
const cubicInch = inch ** 3;
const cubicFoot = foot ** 3;
const litre = 1e-3;
/** US liquid gallon: 231 cubic inches. */
const gallon = 231 * cubicInch;
const pound = 0.453_592_37;
const standardGravity = 9.806_65;
/** 6 894.757 Pa. */
const poundPerSquareInch = (pound * standardGravity) / inch ** 2;
const minute = 60;
const hour = 3600;
const fahrenheit = 5 / 9;
/** International Table British thermal unit, J. */
const btu = 1055.055_852_62;

/**
 * Factors are exact by definition (NIST SP 811, 2008, Appendix B; the BIPM SI brochure, 9th ed., tables 7 and 8)
 * but for the columns of mercury and water, which are conventional (NIST SP 811: mmHg 133.3224 Pa,
 * inHg 3386.389 Pa, mmH2O 9.80665 Pa).
 */
const lines: Readonly<Record<Dimension, readonly Line[]>> = {
  length: [
    ['m', 1, 'm metre meter metres meters'],
    ['mm', 1e-3, 'mm millimetre millimeter millimetres millimeters'],
    ['cm', 1e-2, 'cm centimetre centimeter centimetres centimeters'],
    ['µm', 1e-6, 'um micrometre micrometer micron microns'],
    ['in', inch, 'in inch inches "'],
    ['ft', foot, 'ft foot feet'],
  ],
  mass: [
    ['kg', 1, 'kg kilogram kilograms'],
    ['g', 1e-3, 'g gram grams'],
    ['mg', 1e-6, 'mg milligram milligrams'],
    ['lb', pound, 'lb lbs pound pounds'],
    ['oz', pound / 16, 'oz ounce ounces'],
  ],
  time: [
    ['s', 1, 's sec secs second seconds'],
    ['ms', 1e-3, 'ms msec millisecond milliseconds'],
    ['µs', 1e-6, 'us usec microsecond microseconds'],
    ['min', minute, 'min mins minute minutes'],
    ['h', hour, 'h hr hrs hour hours'],
    ['d', 24 * hour, 'd day days'],
  ],
  frequency: [
    ['Hz', 1, 'Hz hertz 1/s s-1 /s S/s Sa/s samples/s'],
    ['kHz', 1e3, 'kHz kilohertz kS/s'],
    ['MHz', 1e6, 'MHz megahertz'],
    ['1/min', 1 / minute, '1/min min-1 /min'],
  ],
  speed: [
    ['m/s', 1, 'm/s m.s-1 ms-1'],
    ['km/h', 1000 / hour, 'km/h kph km.h-1'],
    ['ft/s', foot, 'ft/s fps'],
    ['ft/min', foot / minute, 'ft/min fpm'],
    ['mph', 1609.344 / hour, 'mph mi/h'],
  ],
  flow: [
    ['m³/s', 1, 'm3/s m3.s-1'],
    ['m³/min', 1 / minute, 'm3/min'],
    ['m³/h', 1 / hour, 'm3/h m3/hr m3.h-1'],
    ['L/s', litre, 'L/s l/s dm3/s'],
    ['L/min', litre / minute, 'L/min l/min LPM lpm dm3/min'],
    ['L/h', litre / hour, 'L/h l/h L/hr l/hr dm3/h'],
    ['mL/min', 1e-6 / minute, 'mL/min ml/min cm3/min cc/min ccm'],
    ['cm³/s', 1e-6, 'cm3/s mL/s ml/s cc/s'],
    ['ft³/s', cubicFoot, 'ft3/s cfs CFS'],
    ['ft³/min', cubicFoot / minute, 'ft3/min cfm CFM cuft/min'],
    ['ft³/h', cubicFoot / hour, 'ft3/h ft3/hr cfh CFH cuft/h cuft/hr'],
    ['gal/min', gallon / minute, 'gal/min gpm GPM'],
  ],
  pressure: [
    ['Pa', 1, 'Pa pascal pascals'],
    ['hPa', 100, 'hPa'],
    ['kPa', 1e3, 'kPa'],
    ['MPa', 1e6, 'MPa'],
    ['bar', 1e5, 'bar bars'],
    ['mbar', 100, 'mbar mb millibar'],
    ['atm', 101_325, 'atm'],
    ['psi', poundPerSquareInch, 'psi lbf/in2 lb/in2'],
    ['mmHg', 133.3224, 'mmHg mm_Hg'],
    ['Torr', 101_325 / 760, 'Torr torr'],
    ['inHg', 3386.389, 'inHg in_Hg'],
    ['mmH₂O', standardGravity, 'mmH2O mm_H2O'],
    ['inH₂O', 25.4 * standardGravity, 'inH2O in_H2O'],
  ],
  temperature: [
    ['°C', 1, 'degC C deg_C celsius Celsius'],
    ['K', 1, 'K kelvin Kelvin', -273.15],
    ['°F', fahrenheit, 'degF F deg_F fahrenheit Fahrenheit', -32],
  ],
  'temperature-difference': [
    ['K', 1, 'K kelvin Kelvin degC C deg_C celsius Celsius'],
    ['mK', 1e-3, 'mK'],
    ['°F', fahrenheit, 'degF F deg_F fahrenheit Fahrenheit'],
  ],
  'temperature-rate': [
    ['K/s', 1, 'K/s degC/s C/s'],
    ['K/min', 1 / minute, 'K/min degC/min C/min'],
    ['K/h', 1 / hour, 'K/h degC/h C/h'],
    ['°F/min', fahrenheit / minute, 'degF/min F/min'],
  ],
  voltage: [
    ['V', 1, 'V volt volts'],
    ['mV', 1e-3, 'mV millivolt millivolts'],
    ['µV', 1e-6, 'uV microvolt microvolts'],
    ['nV', 1e-9, 'nV'],
  ],
  thermoelectric: [
    ['V/K', 1, 'V/K V/degC V/C'],
    ['mV/K', 1e-3, 'mV/K mV/degC mV/C'],
    ['µV/K', 1e-6, 'uV/K uV/degC uV/C'],
    ['mV/°F', 1e-3 / fahrenheit, 'mV/degF mV/F'],
    ['µV/°F', 1e-6 / fahrenheit, 'uV/degF uV/F'],
  ],
  resistance: [
    ['Ω', 1, 'ohm ohms Ohm Ohms'],
    ['mΩ', 1e-3, 'mohm mOhm milliohm'],
    ['kΩ', 1e3, 'kohm kOhm kiloohm'],
  ],
  density: [
    ['kg/m³', 1, 'kg/m3 kg.m-3'],
    ['g/cm³', 1000, 'g/cm3 g/cc g/mL g/ml g.cm-3'],
    ['lb/ft³', pound / cubicFoot, 'lb/ft3 lbm/ft3'],
  ],
  'specific-heat': [
    ['J/(kg K)', 1, 'J/(kg_K) J/(kg.K) J/kg/K J/kg.K J/kg_K J/(kg_degC) J/kg/degC'],
    ['kJ/(kg K)', 1e3, 'kJ/(kg_K) kJ/(kg.K) kJ/kg/K kJ/kg.K kJ/kg_K J/(g_K) J/g/K'],
  ],
  'heat-transfer-coefficient': [
    ['W/(m² K)', 1, 'W/(m2_K) W/(m2.K) W/m2/K W/m2.K W/m2_K W/m2K W/(m2K) W/(m2_degC) W/m2/degC W/m2_degC'],
    ['kW/(m² K)', 1e3, 'kW/(m2_K) kW/(m2.K) kW/m2/K kW/m2.K kW/m2_K kW/m2K'],
    [
      'Btu/(h ft² °F)',
      btu / (hour * foot ** 2 * fahrenheit),
      'Btu/(h_ft2_degF) Btu/(hr_ft2_degF) Btu/(h.ft2.degF) BTU/(h_ft2_degF) BTU/(hr_ft2_degF)',
    ],
  ],
  conductivity: [['W/(m K)', 1, 'W/(m_K) W/(m.K) W/m/K W/m.K W/m_K W/(m_degC) W/m/degC']],
  ratio: [
    ['1', 1, '1'],
    ['%', 1e-2, '% percent pct'],
    ['‰', 1e-3, '‰ permille'],
    ['ppm', 1e-6, 'ppm'],
  ],
};

function tableOf(dimension: Dimension, rows: readonly Line[]): readonly Unit[] {
  return rows.map(([symbol, factor, spellings, offset = 0]) => ({
    dimension,
    symbol,
    factor,
    offset,
    spellings: spellings.split(' ').map((spelling) => spelling.replaceAll('_', ' ')),
  }));
}

const tables = new Map<string, readonly Unit[]>(
  Object.entries(lines).map(([dimension, rows]) => [dimension, tableOf(dimension as Dimension, rows)]),
);

/** Every unit that a dimension is read in, the SI unit first. */
export function unitsOf(dimension: Dimension): readonly Unit[] {
  return tables.get(dimension) ?? [];
}

/** Every dimension that has units. */
export const dimensions = Object.keys(lines) as readonly Dimension[];

/**
 * A value in SI (a temperature in °C) from a number in a unit.
 *
 * @param number in the unit
 */
export function toSI(number: number, unit: Unit): number {
  return unit.factor * (number + unit.offset);
}

/**
 * The number in a unit from a value in SI (a temperature in °C).
 *
 * @param value in SI
 */
export function fromSI(value: number, unit: Unit): number {
  return value / unit.factor - unit.offset;
}
