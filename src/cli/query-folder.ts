import { courseTerms, keptTrials } from '../analysis/index.ts';
import { csvText } from '../export/index.ts';
import { askTables, QueryError, type QueryTerm, queryTables } from '../query/index.ts';
import { openEarlierTerms, readExperiment, readReferenceRuns, readRigChecks } from '../store/index.ts';
import type { QueryOptions } from './query-command.ts';
import { presentAnswer, presentTables } from './query-present.ts';
import { settleResults } from './settle-results.ts';
import { type ExitStatus, inkFor, printable, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `query`.
 *
 * @param words folders, and the question as the last of them
 * @throws OptionError; Error where the first experiment file cannot be used
 */
export async function queryFolders(
  words: readonly string[],
  options: QueryOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const limits = {
    rows: numberOf('--rows', options.rows, 1_000_000),
    time: numberOf('--seconds', options.seconds, 3600),
  };
  const format = formatOf(options.format);
  const folders = options.tables ? words : words.slice(0, -1);
  const question = options.tables ? null : (words.at(-1) ?? '');
  const [first, ...others] = folders;
  if (first === undefined) {
    throw new OptionError(
      'name a folder, and behind it the question in quotes; emberline query --help shows some',
    );
  }
  const tables = queryTables(await termsOf(first, others, surroundings));
  const { stdout, stderr, environment } = surroundings;
  const ink = inkFor(stdout, environment);
  if (question === null) {
    stdout.write(`${presentTables(tables, ink).join('\n')}\n`);
    return 0;
  }
  const answer = await askTables(tables, question, limits).catch((error: unknown) => {
    if (!(error instanceof QueryError)) throw error;
    // The engine cannot be made to let go: the process goes, once what is said has been written.
    if (error.kind === 'stuck') setTimeout(() => process.exit(2), 500).unref();
    throw new OptionError(`${error.message} ${error.mend}`);
  });
  if (format === 'json') {
    const rows = answer.rows.map((row) =>
      Object.fromEntries(answer.columns.map((name, i) => [name, row[i] ?? null])),
    );
    stdout.write(`${JSON.stringify({ rows, cut: answer.cut })}\n`);
  } else if (format === 'csv') {
    stdout.write(csvText({ columns: answer.columns.map((name) => ({ name })), rows: answer.rows }));
  } else {
    stdout.write(`${presentAnswer(answer, ink).join('\n')}\n`);
  }
  if (answer.cut)
    stderr.write(`emberline: only the first ${limits.rows} rows are shown; --rows allows more\n`);
  return answer.cut ? 1 : 0;
}

async function termsOf(
  first: string,
  others: readonly string[],
  surroundings: Surroundings,
): Promise<QueryTerm[]> {
  const experiment = await readExperiment(first);
  await settleResults(first, surroundings);
  const named = await courseTerms(first, experiment);
  // As typed they are named from here, and not from the first folder.
  const typed = await openEarlierTerms('.', others);
  const troubles = [...named.missing, ...typed.missing];
  for (const { written, message } of troubles) {
    surroundings.stderr.write(`emberline: ${printable(written)}: ${printable(message)}\n`);
  }
  const known = new Set(named.terms.map(({ folder }) => folder));
  const all = [...typed.terms.filter(({ folder }) => !known.has(folder)), ...named.terms];
  const terms: QueryTerm[] = [];
  for (const { folder, term, experiment: own } of all) {
    terms.push({
      term,
      experiment: own,
      trials: await keptTrials(folder, own),
      checks: await readRigChecks(folder),
      references: await readReferenceRuns(folder),
    });
  }
  return terms;
}

function formatOf(typed: string | undefined): 'table' | 'csv' | 'json' {
  if (typed === 'csv' || typed === 'json' || typed === 'table') return typed;
  throw new OptionError(`--format is ${typed ?? 'missing'}: write table, csv or json`);
}

function numberOf(option: string, typed: string | undefined, most: number): number {
  const value = Number(typed);
  if (Number.isFinite(value) && value >= 1 && value <= most) return Math.floor(value);
  throw new OptionError(`${option} is ${typed ?? 'missing'}: write a number from 1 to ${most}`);
}
