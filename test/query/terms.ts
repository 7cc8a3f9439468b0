import { readFileSync } from 'node:fs';
import type { QueryTerm } from '../../src/query/index.ts';
import { experimentOf } from '../experiment/read.ts';

type Trial = QueryTerm['trials'][number];

/** A trial of the example course, as it is kept. */
export function trial(
  path: string,
  given: Partial<Trial['summary']> & { readonly tau?: number } = {},
): Trial {
  const { tau = 40, ...summary } = given;
  return {
    summary: {
      path,
      place: { section: 'A', group: 'A1', bench: 'bench-1', body: 'brass-12', flow: '120', repeat: 1 },
      state: 'analyzed',
      message: null,
      note: null,
      timeConstant: {
        value: tau,
        standardUncertainty: tau / 100,
        interval: [0.98 * tau, 1.02 * tau],
        coverage: 0.95,
        degreesOfFreedom: 30,
        method: 'exponential-fit',
      },
      verdict: 'usable',
      codes: [],
      strip: null,
      decided: false,
      rejected: false,
      copyOf: null,
      duration: 200,
      startedAt: '2026-10-05T14:00:00',
      ...summary,
    },
    excluded: null,
    sha256: 'a'.repeat(64),
    ambient: 20.5,
    run: { own: 0.005, shared: 0.008 },
    decisions: [],
  };
}

/** Two terms of the example course with a little of everything in them. */
export function twoTerms(): QueryTerm[] {
  const experiment = experimentOf(readFileSync('examples/thornwick/experiment.yaml', 'utf8'));
  const at = '2026-10-05T12:30:00.000Z';
  const place = (bench: string) => ({
    section: 'A',
    group: 'A2',
    bench,
    body: 'brass-12',
    flow: '120',
    repeat: 1,
  });
  return [
    {
      term: '2026-spring',
      experiment,
      trials: [trial('recordings/a.txt', { tau: 36 }), trial('recordings/b.txt', { tau: 49 })],
      checks: { checks: [], withdrawn: [] },
      references: { runs: [], withdrawn: [] },
    },
    {
      term: '2026-autumn',
      experiment,
      trials: [
        trial('recordings/c.txt', { place: place('bench-2'), codes: ['baseline-short', 'hum-heavy'] }),
        {
          ...trial("recordings/it's; DROP TABLE trials.txt", { rejected: true, decided: true }),
          excluded: 'IK took it out: other body',
          decisions: [
            {
              id: 'd1',
              at,
              who: 'IK',
              why: 'other body',
              kind: 'reject',
              marks: null,
              read: null,
              undoes: null,
              applies: true,
              note: null,
            },
          ],
        },
      ],
      checks: {
        checks: [
          {
            id: 'c1',
            at,
            who: 'IK',
            bench: 'bench-1',
            kind: 'zero',
            subject: null,
            value: 0.0014,
            written: '1.4 mV',
            note: '',
          },
        ],
        withdrawn: [{ id: 'c1', at, who: 'IK', why: 'other bench' }],
      },
      references: {
        runs: [
          {
            id: 'r1',
            at,
            who: 'IK',
            term: '2026-spring',
            bench: 'bench-2',
            recording: 'reference/a.txt',
            sha256: 'b'.repeat(64),
            body: 'brass-12',
            flow: '120',
            timeConstant: 38,
            standardUncertainty: 0.3,
            interval: [37.4, 38.6],
            expected: { value: 39.4, relative: 0.15, source: 'prediction' },
            note: '',
          },
        ],
        withdrawn: [],
      },
    },
  ];
}
