import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Caller, callerAs } from '../../../src/server/access/caller.ts';
import { allows, permissions } from '../../../src/server/access/permissions.ts';
import { roles } from '../../../src/server/contract/index.ts';
import { testServer } from '../app.ts';

let caller: Caller | null = null;
let server: Awaited<ReturnType<typeof testServer>>;
beforeAll(async () => {
  server = await testServer({ identity: { callerOf: async () => caller } });
});
afterAll(() => server.remove());

/** What the router knows beside what every request passes. */
function routesOf(): string[] {
  const own = server.app.routes.filter(({ method }) => method !== 'ALL');
  return [...new Set(own.map(({ method, path }) => `${method} ${path}`))].sort();
}

/** An address that a route answers. */
function addressOf(path: string): string {
  return path
    .replace(/:path\{\.\+\}/, 'recordings/a.txt')
    .replace(/:\w+/g, '1'.repeat(32))
    .replace('*', '');
}

describe('the table of permissions', () => {
  it('names each route, and no other', () => {
    expect(routesOf()).toEqual(Object.keys(permissions).sort());
  });

  it('lets the instructor do everything', () => {
    // What is a group's own has its like for the instructor under other addresses.
    const common = Object.entries(permissions).filter(([route]) => !route.includes(' /api/mine'));
    for (const [route, may] of common) expect(allows(may, 'instructor'), route).toBe(true);
  });

  it('is what the server goes by, for every route and everybody', async () => {
    for (const [route, may] of Object.entries(permissions)) {
      const [method = '', path = ''] = route.split(' ');
      for (const role of [null, ...roles]) {
        caller = role === null ? null : callerAs(role, role === 'group' ? 'g1' : null);
        const answer = await server.app.request(addressOf(path), {
          method,
          headers: { 'content-type': 'application/json', host: 'localhost' },
          ...(method === 'GET' || method === 'HEAD' ? {} : { body: '{}' }),
        });
        const refusal = role === null ? 401 : 403;
        const asked = `${route} by ${role ?? 'nobody'}`;
        if (allows(may, role)) expect([401, 403], asked).not.toContain(answer.status);
        else expect(answer.status, asked).toBe(refusal);
        await answer.body?.cancel();
      }
    }
  });

  it('says nothing of a folder to nobody', async () => {
    caller = null;
    for (const path of ['/api/anything', '/api/recordings/x/analysis', '/api/floor', '/api']) {
      const answer = await server.app.request(path, { headers: { host: 'localhost' } });
      expect([401, 404]).toContain(answer.status);
      expect(await answer.text()).not.toMatch(/brass|recordings\/a/);
    }
  });
});
