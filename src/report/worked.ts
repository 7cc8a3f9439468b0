import type { RecordingDetail, WrittenStep } from '../analysis/index.ts';
import type { Block, Report } from './document.ts';
import { madeBy, type Origin, shortHash } from './origin.ts';

/** One recording worked through on paper: every step with its formula, its numbers and its source. */
export function workedReport(detail: RecordingDetail, steps: readonly WrittenStep[], origin: Origin): Report {
  return {
    title: `${detail.path}, worked through`,
    subtitle: `${origin.course}: every step of the analysis with this recording's numbers in it`,
    foot: madeBy(origin, `recording ${shortHash(detail.file.sha256)}`),
    density: 'usual',
    blocks: steps.flatMap(stepBlocks),
  };
}

/** A step of an analysis: what is done, in letters and with numbers, its table, and what it comes to. */
function stepBlocks({ title, text, formulas, table, result, source }: WrittenStep, index: number): Block[] {
  const blocks: Block[] = [{ kind: 'heading', level: 1, text: `${index + 1}  ${title}` }];
  for (const paragraph of text) blocks.push({ kind: 'paragraph', text: paragraph });
  formulas.forEach((formula, i) => {
    const { tex, plain } = formula;
    // A source is said once, under the last of the formulas that it is of.
    const said = formulas[i + 1]?.source === formula.source ? null : formula.source;
    blocks.push({ kind: 'formula', tex, plain, source: said });
  });
  if (table !== null) {
    blocks.push({
      kind: 'table',
      table: {
        caption: null,
        columns: table.columns.map((column, i) => ({
          title: column,
          align: table.rows.every((row) => /^[-−]?\d[\d.\s]*$/.test(row[i] ?? '')) ? 'decimal' : 'start',
        })),
        rows: table.rows,
      },
    });
  }
  blocks.push({ kind: 'paragraph', text: [{ kind: 'strong', text: result }] });
  if (source !== null) blocks.push({ kind: 'paragraph', text: [{ kind: 'emphasis', text: source }] });
  return blocks;
}
