import { expect, it } from 'vitest';
import { ProblemError } from '../../web/src/api/calls.ts';
import { tryAgain } from '../../web/src/api/queries.ts';

const problem = (status: number) =>
  new ProblemError({ type: 'about:blank', title: '', status, detail: '', mend: '' });

// RFC 9110, 15.5 and 15.6: 4xx is the asker's error, which the same request meets again; 5xx is the server's.
it.each([400, 404, 409, 422, 499])('does not repeat what the server refused with %i', (status) => {
  expect(tryAgain(0, problem(status))).toBe(false);
});

it.each([0, 500, 503])('repeats once what failed with %i', (status) => {
  expect(tryAgain(0, problem(status))).toBe(true);
  expect(tryAgain(1, problem(status))).toBe(false);
});

it('repeats once what failed for no known reason', () => {
  expect(tryAgain(0, new Error('?'))).toBe(true);
});
