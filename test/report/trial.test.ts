import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { openAnalysis, type RecordingDetail, type WrittenStep } from '../../src/analysis/index.ts';
import { documentHtml, trialReport, typesetPdf, workedReport } from '../../src/report/index.ts';
import { pagesOf } from './pages.ts';

const demo = join('demo', 'thornwick');
const origin = {
  course: 'Thornwick',
  version: '0.1.0',
  experimentHash: createHash('sha256')
    .update(readFileSync(join(demo, 'experiment.yaml')))
    .digest('hex'),
};
const quoting = { figures: 2 } as const;

let detail: RecordingDetail;
let steps: WrittenStep[];

beforeAll(async () => {
  const analysis = await openAnalysis(demo);
  detail = await analysis.detail('recordings/A/A1/brass-12_120-1.txt');
  steps = await analysis.writtenSteps(detail.path);
  await analysis.close();
}, 60_000);

describe('the report of a trial', () => {
  test('holds the result, its interval, the file and the version on paper', async () => {
    const pdf = await typesetPdf(trialReport({ detail, origin, quoting }), 'a4');
    const text = (await pagesOf(pdf)).join(' ').replace(/\s+/g, ' ');
    const { value } = detail.timeConstant ?? { value: Number.NaN };
    expect(text).toContain(`Time constant (${value.toFixed(2)}`.slice(0, 18));
    expect(text.replace(/ /g, '')).toContain(detail.file.sha256);
    expect(text).toContain('Emberline 0.1.0');
    for (const { message } of detail.remarks) expect(text).toContain(message.slice(0, 25));
  });

  test('is the same bytes when it is made again', async () => {
    const report = trialReport({ detail, origin, quoting });
    const [first, second] = [await typesetPdf(report, 'a4'), await typesetPdf(report, 'a4')];
    expect(Buffer.compare(first, second)).toBe(0);
  });
});

describe('a worked analysis', () => {
  test('sets every step', async () => {
    const report = workedReport(detail, steps, origin);
    const text = (await pagesOf(await typesetPdf(report, 'us-letter'))).join(' ');
    for (const { title } of steps) expect(text).toContain(title.slice(0, 12));
    const html = await documentHtml(report);
    expect(html).toContain('<math');
  });
});
