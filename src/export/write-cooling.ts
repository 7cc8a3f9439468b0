import type { Row } from 'write-excel-file/node';
import type { AnalyzedFile } from '../analysis/index.ts';
import { expandedUncertainty, methodWords } from '../analysis/index.ts';
import type { DecaySettings } from '../decay/index.ts';
import { coolingCsv } from './cooling-csv.ts';
import { coolingSheet } from './cooling-sheet.ts';
import { type CoolingTable, coolingTable, thinningWords } from './cooling-table.ts';
import type { ExportOrigin } from './types.ts';
import { textCell, workbook } from './xlsx.ts';

/** What the cooling of a recording is exported from. */
export interface CoolingInput {
  /** Of the recording, from the experiment folder. */
  readonly path: string;
  readonly analyzed: AnalyzedFile;
  /** By which it was analyzed. */
  readonly settings: DecaySettings;
  readonly origin: ExportOrigin;
}

/** How the cooling of a recording can be written. */
export type CoolingFormat = 'csv' | 'xlsx';

/** A cooling as a file, and how far it is thinned. */
export interface WrittenCooling {
  readonly bytes: Uint8Array;
  readonly thinning: string;
}

/**
 * The cooling of a recording in block means: as a workbook with the regression of ln of the error fraction worked out in
 * live formulas beside them, or as plain columns. The same input gives the same bytes.
 *
 * @throws CoolingError where there is no cooling
 */
export async function writeCooling(input: CoolingInput, format: CoolingFormat): Promise<WrittenCooling> {
  const table = coolingTable(input.analyzed, input.settings);
  const thinning = thinningWords(table);
  if (format === 'csv') return { bytes: Buffer.from(coolingCsv(table), 'utf8'), thinning };
  const bytes = await workbook([
    { name: 'cooling', data: coolingSheet(table), widths: [10, 10, 10, 18, 18, 3, 28, 14, 70], head: 1 },
    { name: 'about', data: aboutRows(input, table), widths: [32, 16, 80], head: 0 },
  ]);
  return { bytes, thinning };
}

function aboutRows({ path, analyzed, origin }: CoolingInput, table: CoolingTable): Row[] {
  const { recording, decay } = analyzed;
  const { start, rows } = table;
  return [
    textRow('recording', path),
    textRow('SHA-256 of its file', recording.sha256),
    textRow('course', origin.course),
    textRow('Emberline', origin.version),
    textRow('SHA-256 of experiment.yaml', origin.experimentHash),
    [],
    textRow('rows', `${rows.length}. ${thinningWords(table)} Wild readings are left out.`),
    textRow(
      'start',
      `t is counted from the hottest reading, ${Number(start.time.toFixed(6))} s after the first sample.`,
    ),
    textRow('error fraction', 'Γ = (T − T∞)/(T0 − T∞); for a first-order cooling ln Γ = −t/τ.'),
    textRow('window', 'T0, T∞ and the two limits of Γ may be changed: everything follows.'),
    textRow(
      'standard error',
      'The readings of a logger are not independent of each other, and T0 and T∞ are not known exactly. The printed standard error and its 95 % cover the true value far more seldom than they claim.',
    ),
    [],
    [textCell('From all readings, time constants in s', true)],
    ...decay.estimates.flatMap(({ method, classroom }): Row[] =>
      classroom === null
        ? []
        : [[textCell(methodWords[method]), numberCell(classroom.value), textCell('as it is taught')]],
    ),
    ...(decay.timeConstant === null
      ? []
      : [
          [
            textCell(methodWords[decay.timeConstant.method]),
            numberCell(decay.timeConstant.value),
            textCell('the result'),
          ],
          [
            textCell('its expanded uncertainty'),
            numberCell(expandedUncertainty(decay.timeConstant)),
            textCell('coverage 95 %, with everything that is known of'),
          ],
        ]),
  ];
}

function textRow(name: string, text: string): Row {
  return [textCell(name), null, textCell(text)];
}

function numberCell(value: number): Row[number] {
  return { type: Number, value, format: '0.0000' };
}
