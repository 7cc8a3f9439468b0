import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { experimentDecaySettings, openAnalysis } from '../src/analysis/index.ts';
import { coolingTable, writeCooling } from '../src/export/index.ts';
import { version } from '../src/version.ts';

/** Largest difference allowed, as a part of the value; the standard error loses digits in its sums. */
const allowed = 1e-9;

/** Has LibreOffice work out the formulas of an exported cooling, and holds its results against the program's. */
const path = 'recordings/A/A1/brass-12_120-1.txt';
const analysis = await openAnalysis(join('demo', 'thornwick'));
const analyzed = await analysis.analysis(path);
const settings = experimentDecaySettings(analysis.experiment, 'brass-12');
const origin = { course: 'Thornwick', version, experimentHash: '0'.repeat(64) };
const scratch = mkdtempSync(join(tmpdir(), 'emberline-spreadsheet-'));
try {
  const book = join(scratch, 'cooling.xlsx');
  const { bytes } = await writeCooling({ path, analyzed, settings, origin }, 'xlsx');
  writeFileSync(book, bytes);
  execFileSync(
    'soffice',
    [
      `-env:UserInstallation=${pathToFileURL(join(scratch, 'profile')).href}`,
      '--headless',
      '--convert-to',
      'csv:Text - txt - csv (StarCalc):9,34,76,1,,0,false,false,false,false,false,1',
      '--outdir',
      scratch,
      book,
    ],
    { timeout: 120_000, stdio: 'ignore' },
  );
  const lines = readFileSync(join(scratch, 'cooling-cooling.csv'), 'utf8').split('\n');
  const { origin: through, intercept } = coolingTable(analyzed, settings);
  const held: [string, number, number | undefined][] = [
    ['through the origin', 15, through?.value],
    ['its standard error', 16, through?.standardError],
    ['with an intercept', 23, intercept?.value],
    ['its standard error', 24, intercept?.standardError],
  ];
  for (const [name, row, own] of held) {
    const found = Number(lines[row - 1]?.split('\t')[7]?.replaceAll('"', ''));
    const off = own === undefined ? Number.NaN : Math.abs(found / own - 1);
    console.log(`${name}: ${found} s by the spreadsheet, ${own} s by Emberline`);
    if (!(off < allowed)) process.exitCode = 1;
  }
} finally {
  rmSync(scratch, { recursive: true, force: true });
  await analysis.close();
}
