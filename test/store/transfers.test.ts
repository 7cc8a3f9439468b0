import { createHash } from 'node:crypto';
import { appendFile, mkdtemp, readdir, readFile, rm, truncate, utimes } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, it } from 'vitest';
import {
  openTransfers,
  openUploads,
  type PieceCheck,
  type Transfers,
  type UploadLimits,
  usualUploadLimits,
} from '../../src/store/index.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'emberline-transfers-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const small: UploadLimits = {
  ...usualUploadLimits,
  largest: 1e6,
  filesOfOwner: 3,
  bytesOfOwner: 2e6,
  files: 5,
};
const opened = (limits = small): Transfers => openTransfers(folder, openUploads(folder), limits);
const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
const bytes = Uint8Array.from({ length: 5000 }, (_, i) => (i * 7) % 251);
const about = { name: 'a.txt', owner: 'staff', bytes: bytes.length, sha256: hashOf(bytes), changed: null };

async function* pieces(of: Uint8Array, size = 700): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < of.length; at += size) yield of.slice(at, at + size);
}
/** What comes before the line breaks. */
async function* broken(of: Uint8Array): AsyncGenerator<Uint8Array> {
  yield* pieces(of);
  throw new Error('the line broke');
}
const sha256Of = (of: Uint8Array): PieceCheck => {
  return { algorithm: 'sha256', digest: createHash('sha256').update(of).digest() };
};

it('goes on where it stopped, whatever breaks and wherever, also under another server', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.uniqueArray(fc.integer({ min: 1, max: bytes.length - 1 }), { maxLength: 6 }),
      fc.integer({ min: 0, max: 3000 }),
      async (cuts, tail) => {
        const { id } = await opened().begin({ ...about, name: `${cuts.join('-')} ${tail}` });
        let from = 0;
        for (const cut of [...cuts].sort((a, b) => a - b)) {
          // Each piece meets a server that knows only what is on the disk.
          const sent = opened().append(id, from, () => broken(bytes.slice(from, cut)), null);
          await expect(sent).rejects.toThrow('the line broke');
          // Bytes that a killed server wrote and never acknowledged.
          if (tail > 0) await appendFile(join(folder, '.uploads', `${id}.part`), Buffer.alloc(tail, 1));
          from = (await opened().find(id))?.received ?? -1;
          expect(from).toBe(cut);
        }
        await opened().append(id, from, () => pieces(bytes.slice(from)), null);
        const whole = await openUploads(folder).find(id);
        expect(whole?.sha256).toBe(about.sha256);
        expect(new Uint8Array(await readFile(whole?.path ?? ''))).toEqual(bytes);
        expect((await opened().find(id))?.received).toBe(bytes.length);
        await opened().end(id);
      },
    ),
    { numRuns: 25 },
  );
  expect(await readdir(join(folder, '.uploads'))).toEqual([]);
});

it('begins the same file of the same owner once', async () => {
  const { id } = await opened().begin(about);
  await expect(opened().append(id, 0, () => broken(bytes.slice(0, 1000)), null)).rejects.toThrow();
  expect(await opened().begin(about)).toMatchObject({ id, received: 1000 });
  expect((await opened().begin({ ...about, owner: 'group g1' })).id).not.toBe(id);
  expect((await opened().begin({ ...about, sha256: '0'.repeat(64) })).id).not.toBe(id);
});

it('knows a file without a hash by its name and its time, and without either not at all', async () => {
  const limits = { ...small, filesOfOwner: 10 };
  const dated = { ...about, sha256: null, changed: '1700000000000' };
  const { id } = await opened(limits).begin(dated);
  expect((await opened(limits).begin(dated)).id).toBe(id);
  expect((await opened(limits).begin({ ...dated, changed: '1700000000001' })).id).not.toBe(id);
  const bare = { ...dated, changed: null };
  expect((await opened(limits).begin(bare)).id).not.toBe((await opened(limits).begin(bare)).id);
});

it('refuses a whole file of another hash, and keeps nothing of it', async () => {
  const transfers = opened();
  const { id } = await transfers.begin({ ...about, sha256: '0'.repeat(64) });
  await expect(transfers.append(id, 0, () => pieces(bytes), null)).rejects.toMatchObject({
    trouble: 'wrong-hash',
    message: expect.stringContaining(about.sha256),
  });
  expect(await transfers.find(id)).toBeNull();
  expect(await readdir(join(folder, '.uploads'))).toEqual([]);
});

it('takes bytes with a hash of their own all or not at all', async () => {
  const transfers = opened();
  const { id } = await transfers.begin(about);
  const first = bytes.slice(0, 2000);
  const wrong = transfers.append(id, 0, () => pieces(bytes.slice(1, 2001)), sha256Of(first));
  await expect(wrong).rejects.toMatchObject({ trouble: 'damaged' });
  await expect(transfers.append(id, 0, () => broken(first), sha256Of(first))).rejects.toThrow(
    'the line broke',
  );
  expect((await transfers.find(id))?.received).toBe(0);
  expect((await transfers.append(id, 0, () => pieces(first), sha256Of(first))).received).toBe(2000);
});

it('says at which byte it goes on, and takes no more than was announced', async () => {
  const transfers = opened();
  const { id } = await transfers.begin(about);
  await expect(transfers.append(id, 1, () => pieces(bytes), null)).rejects.toMatchObject({
    trouble: 'out-of-step',
  });
  const long = transfers.append(id, 0, () => pieces(Buffer.alloc(6000)), null);
  await expect(long).rejects.toMatchObject({ trouble: 'too-long' });
  await expect(transfers.append('0'.repeat(32), 0, () => pieces(bytes), null)).rejects.toMatchObject({
    trouble: 'gone',
  });
  expect(await transfers.find('../../etc/passwd')).toBeNull();
});

it('ends what still comes by a lost connection when somebody asks how far it is', async () => {
  const transfers = opened();
  const { id } = await transfers.begin(about);
  let began = () => {};
  const stalled = new Promise<void>((resolve) => {
    began = resolve;
  });
  const old = transfers.append(
    id,
    0,
    async function* (stop) {
      yield bytes.slice(0, 1500);
      const ended = new Promise((resolve) => stop.addEventListener('abort', resolve));
      began();
      await ended;
    },
    null,
  );
  await stalled;
  expect((await transfers.find(id))?.received).toBe(1500);
  expect((await old).received).toBe(1500);
});

it('finishes what a crash left between the last byte and the waiting file', async () => {
  const { id } = await opened().begin(about);
  const atRename = { ...openUploads(folder), adopt: () => Promise.reject(new Error('killed here')) };
  const dying = openTransfers(folder, atRename, small);
  await expect(dying.append(id, 0, () => pieces(bytes), null)).rejects.toThrow('killed here');
  expect(await openUploads(folder).find(id)).toBeNull();
  expect((await opened().find(id))?.received).toBe(bytes.length);
  expect((await openUploads(folder).find(id))?.sha256).toBe(about.sha256);
});

it('takes an empty file, which has no byte to wait for', async () => {
  const { id } = await opened().begin({ ...about, bytes: 0, sha256: null });
  expect((await openUploads(folder).find(id))?.bytes).toBe(0);
});

it('holds owners and everybody to their limits, counting what was promised', async () => {
  const transfers = opened();
  const begin = (n: number, more: Partial<typeof about> = {}) => {
    return transfers.begin({ ...about, sha256: null, name: `${n}.txt`, ...more });
  };
  await expect(begin(0, { bytes: 1e6 + 1 })).rejects.toMatchObject({ trouble: 'too-large' });
  for (const n of [1, 2, 3]) await begin(n);
  await expect(begin(4)).rejects.toMatchObject({ trouble: 'too-many' });
  for (const n of [5, 6]) await begin(n, { owner: 'group g1', bytes: 9e5 });
  await expect(begin(7, { owner: 'group g1', bytes: 9e5 })).rejects.toMatchObject({ trouble: 'too-many' });
  await expect(begin(8, { owner: 'group g2' })).rejects.toMatchObject({ trouble: 'too-many' });
  const full = opened({ ...small, files: 100, spare: Number.MAX_SAFE_INTEGER });
  await expect(full.begin({ ...about, owner: 'group g3' })).rejects.toMatchObject({ trouble: 'no-room' });
});

it('goes after a day in which nothing came, and not where its file is damaged on the disk', async () => {
  const { id } = await opened().begin(about);
  await expect(opened().append(id, 0, () => broken(bytes.slice(0, 3000)), null)).rejects.toThrow();
  // Somebody cut the file by hand: what is not there is not acknowledged any more.
  await truncate(join(folder, '.uploads', `${id}.part`), 1000);
  expect((await opened().find(id))?.received).toBe(1000);
  const old = new Date(Date.now() - 2 * 86_400_000);
  for (const name of await readdir(join(folder, '.uploads')))
    await utimes(join(folder, '.uploads', name), old, old);
  await openUploads(folder).sweep(Date.now());
  expect(await opened().find(id)).toBeNull();
  expect(await readdir(join(folder, '.uploads'))).toEqual([]);
});
