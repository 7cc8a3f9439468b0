import { createServer, request } from 'node:http';
import { afterEach, expect, it } from 'vitest';
import { endIdleBodies } from '../../src/server/idle-bodies.ts';

const closing: (() => void)[] = [];
afterEach(() => {
  for (const close of closing.splice(0)) close();
});

/** A server that answers with the number of bytes that came. */
async function counting(patience: number): Promise<number> {
  const server = createServer(async (asked, answer) => {
    let bytes = 0;
    try {
      for await (const piece of asked) bytes += piece.length;
      answer.end(String(bytes));
    } catch {
      answer.destroy();
    }
  });
  endIdleBodies(server, patience);
  closing.push(() => server.close());
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

it('ends a body on which nothing comes any more', async () => {
  const port = await counting(50);
  const ended = new Promise((resolve, reject) => {
    const sending = request({ port, host: '127.0.0.1', method: 'PUT', headers: { 'content-length': '10' } });
    sending.on('error', resolve);
    sending.on('response', reject);
    sending.write('half');
  });
  expect(await ended).toMatchObject({ code: 'ECONNRESET' });
});

it('waits for a body as long as something comes, whatever Node would wait for the whole', async () => {
  const port = await counting(2000);
  const answer = new Promise<string>((resolve, reject) => {
    const sending = request({ port, host: '127.0.0.1', method: 'PUT', headers: { 'content-length': '30' } });
    sending.on('error', reject);
    sending.on('response', (response) => {
      response.setEncoding('utf8');
      response.on('data', resolve);
    });
    let sent = 0;
    const more = setInterval(() => {
      sending.write('x');
      sent += 1;
      if (sent < 30) return;
      clearInterval(more);
      sending.end();
    }, 5);
  });
  expect(await answer).toBe('30');
});

it('leaves alone who waits for an answer', async () => {
  const server = createServer((_, answer) => void setTimeout(() => answer.end('late'), 150));
  endIdleBodies(server, 30);
  closing.push(() => server.close());
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  expect(await (await fetch(`http://127.0.0.1:${port}/`)).text()).toBe('late');
  expect(await (await fetch(`http://127.0.0.1:${port}/`, { method: 'POST', body: 'whole' })).text()).toBe(
    'late',
  );
});
