/** Names of time columns, in lower case. */
export const timeName =
  /^(?:t|x)$|^x[_ -]?(?:values?|axis|data)$|time|zeit|^temps$|tiempo|tempo\b|tijd|elapsed|stamp|^sec(?:onds?)?$|^millis$|dauer|date|datum|uhr/;
/** Names of columns that number the samples, in lower case. */
export const indexName =
  /^(?:#|n|i|no\.?|nr\.?|num(?:ber)?|index|idx|samples?|scan|reading|record|point|punkt|messung|lfd\b.*|(?:sample|scan|reading|record|data)[ _.]*(?:no\.?|nr\.?|number|index|#|count|point))$/;
/** Names that a sensor's column has, in any case. */
export const sensorName =
  /temp|thermo|\btc\b|tc[_ ]?\d|sphere|kugel|bead|body|probe|sensor|sonde|f[üu]hler|junction|signal|ai\s?\d|kelvin|celsius/i;

/** Whether a column's name is that of a sensor: a word for one, or a capital T. */
export function isSensorName(name: string): boolean {
  return sensorName.test(name) || /^T(?:\d|_|$)/.test(name);
}
