/** How a simulated logger writes its file. */
export interface LoggerText {
  /** Lines before the numbers, without line ends. */
  readonly preamble: readonly string[];
  readonly delimiter: string;
  readonly decimal: '.' | ',';
  readonly lineEnd: '\n' | '\r\n';
  /** Decimals of the time column; null writes no time column. */
  readonly timeDecimals: number | null;
  readonly valueDecimals: number;
}

/**
 * Readings as the text that a logger would write.
 *
 * @param values one array a channel, all of one length, in the unit that the preamble states
 * @param rate sampling rate, Hz, > 0
 * @param text how the logger writes
 */
export function loggerText(values: readonly Float64Array[], rate: number, text: LoggerText): string {
  const number = (value: number, decimals: number) => {
    const plain = value.toFixed(decimals);
    return text.decimal === ',' ? plain.replace('.', ',') : plain;
  };
  const rows = values[0]?.length ?? 0;
  const lines = [...text.preamble];
  for (let i = 0; i < rows; i++) {
    const cells = values.map((channel) => number(channel[i] ?? Number.NaN, text.valueDecimals));
    if (text.timeDecimals !== null) cells.unshift(number(i / rate, text.timeDecimals));
    lines.push(cells.join(text.delimiter));
  }
  return `${lines.join(text.lineEnd)}${text.lineEnd}`;
}

/** Time and degrees in two columns, to 10 ms and 1 mK. */
export const plainText: LoggerText = {
  preamble: ['Time (s)\tT (degC)'],
  delimiter: '\t',
  decimal: '.',
  lineEnd: '\n',
  timeDecimals: 2,
  valueDecimals: 3,
};
