import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { problem } from '../../src/server/contract/index.ts';
import { testServer } from './app.ts';

let server: Awaited<ReturnType<typeof testServer>>;
beforeAll(async () => {
  server = await testServer({
    recordings: {
      comparison: async () => {
        throw new Error('secret of /home/somebody');
      },
    },
  });
});
afterAll(() => server.remove());

/** RFC 9457, section 3: media type, and the members with the status of the answer. */
async function expectProblem(response: Response, status: number): Promise<string> {
  expect(response.status).toBe(status);
  expect(response.headers.get('content-type')).toBe('application/problem+json');
  const text = await response.text();
  const read = problem.parse(JSON.parse(text));
  expect(read.status).toBe(status);
  for (const words of [read.title, read.detail, read.mend]) expect(words).not.toBe('');
  expect(text).not.toMatch(/\n\s+at |node_modules/);
  return text;
}

describe('who may ask', () => {
  it.each(['evil.example', 'localhost.evil.example', '127.0.0.1.evil.example:4173', '[::1]', '0.0.0.0', ''])(
    'refuses the host "%s" (DNS rebinding)',
    async (host) => {
      for (const path of ['/', '/api/experiment']) {
        await expectProblem(await server.app.request(path, { headers: { host } }), 421);
      }
    },
  );

  it.each(['localhost', 'localhost:4173', '127.0.0.1:80', 'LOCALHOST'])('answers to %s', async (host) => {
    expect((await server.app.request('/api/experiment', { headers: { host } })).status).toBe(200);
  });

  it.each([
    { origin: 'http://evil.example' },
    { origin: 'null' },
    { origin: 'http://localhost:9999' },
    { origin: 'https://localhost' },
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site' },
  ])('refuses writes from %o', async (headers) => {
    const sent = server.json('POST', '/api/uploads?name=a.txt', '1', { host: 'localhost', ...headers });
    await expectProblem(await sent, 403);
  });

  it('takes writes of its own page', async () => {
    const headers = {
      host: 'localhost:4173',
      origin: 'http://localhost:4173',
      'sec-fetch-site': 'same-origin',
    };
    const answer = await server.json('POST', '/api/experiment/change', {}, headers);
    expect(answer.status).toBe(400);
  });
});

describe('what is sent', () => {
  it('must say that it is JSON', async () => {
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data']) {
      const sent = server.json('PUT', '/api/experiment', {}, { 'content-type': type });
      await expectProblem(await sent, 415);
    }
  });

  it('must be JSON, fit the contract, and be small', async () => {
    await expectProblem(await server.json('PUT', '/api/experiment', '{'), 400);
    await expectProblem(await server.json('PUT', '/api/experiment', 'null'), 400);
    await expectProblem(await server.json('PUT', '/api/experiment', { hash: 'x', text: '' }), 400);
    await expectProblem(await server.json('PUT', '/api/experiment', ' '.repeat(5 << 20)), 413);
  });

  it('cannot change what objects inherit', async () => {
    const body = `{"__proto__":{"polluted":1},"hash":"${'0'.repeat(64)}","changes":[{"place":["__proto__","polluted"],"value":"1"}]}`;
    await expectProblem(await server.json('POST', '/api/experiment/change', body), 409);
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
  });
});

describe('addresses', () => {
  it.each([
    '/api/recordings/..%2f..%2fetc%2fpasswd/analysis',
    '/api/recordings/%00/analysis',
    '/api/recordings/..%5c..%5cwindows/steps',
    '/api/recordings//etc/passwd/steps',
    '/api/recordings/%ff%fe/steps',
    '/api/recordings/experiment.yaml/readings?from=0&to=1&points=10',
    '/api/uploads/..%2f/keep',
    '/api/unknown',
    '/api',
    '/api/',
    '/assets/..%2f..%2fpackage.json',
    '/assets/gone.js',
  ])('%s leads nowhere', async (path) => {
    await expectProblem(await server.app.request(path), 404);
  });

  it.each([
    '/',
    '/plan',
    '/recordings/a/b.txt/steps',
    '/api/recordings/%2e%2e/%2e%2e/%2e%2e/etc/passwd',
    '/..%2fexperiment.yaml',
    '/%00',
    '/experiment.yaml',
  ])('%s is a place of the page', async (path) => {
    const answer = await server.app.request(path);
    expect(answer.headers.get('cache-control')).toBe('no-cache');
    expect(await answer.text()).toContain('<title>page</title>');
  });

  it('names of files that change with their content are kept for ever', async () => {
    const answer = await server.app.request('/assets/page-1a2b.js');
    expect(answer.headers.get('cache-control')).toContain('immutable');
    expect(answer.headers.get('content-type')).toContain('text/javascript');
  });

  it('can only be looked at outside of the API', async () => {
    await expectProblem(await server.json('POST', '/plan', {}), 405);
  });
});

describe('every answer', () => {
  it('keeps the page to itself, problems too', async () => {
    for (const path of ['/', '/api/experiment', '/api/unknown', '/assets/gone.js', '/api/compare']) {
      const { headers } = await server.app.request(path);
      expect(headers.get('content-security-policy')).toMatch(/^default-src 'none'; script-src 'self';/);
      expect(headers.get('content-security-policy')).not.toContain('unsafe');
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
      expect(headers.has('access-control-allow-origin')).toBe(false);
    }
  });

  it('to a fault of its own says nothing of the inside, but the log does', async () => {
    const text = await expectProblem(await server.app.request('/api/compare'), 500);
    expect(text).not.toContain('secret');
    expect(server.logged.join()).toContain('secret of /home/somebody');
  });
});

it('describes every route that it has', async () => {
  const document: { paths: Record<string, Record<string, unknown>> } = JSON.parse(
    await (await server.app.request('/api/openapi.json')).text(),
  );
  const described = Object.entries(document.paths).flatMap(([path, item]) => {
    return Object.keys(item).map((method) => `${method.toUpperCase()} ${path}`);
  });
  const routes = server.app.routes
    .filter(
      ({ method, path }) => method !== 'ALL' && path.startsWith('/api/') && !path.endsWith('openapi.json'),
    )
    .map(({ method, path }) => `${method} ${path.replace(/:(\w+)(?:\{[^}]*\})?/g, '{$1}')}`);
  expect(new Set(described)).toEqual(new Set(routes));
  expect(described.length).toBeGreaterThanOrEqual(13);
});
