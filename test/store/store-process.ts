// A process of its own that works on a folder when it is told to: what several programs do at once needs several.
import { appendDecision, FolderServedError, openTrail, serveAlone } from '../../src/store/index.ts';

/** What the process is told to do. */
export type Order =
  | { readonly act: 'serve'; readonly folder: string }
  | { readonly act: 'decide'; readonly folder: string; readonly recording: string; readonly who: string }
  | { readonly act: 'trail'; readonly folder: string; readonly times: number };

const now = () => Date.now();
const at = '2026-03-02T09:00:00Z';
const sha256 = 'ab'.repeat(32);

async function done(order: Order): Promise<string> {
  if (order.act === 'serve') {
    const served = await serveAlone(order.folder, now());
    return served.killed ?? 'alone';
  }
  if (order.act === 'decide') {
    const { folder, recording, who } = order;
    await appendDecision(folder, recording, { kind: 'reject' }, { who, why: 'a draught', at, sha256 });
    return 'decided';
  }
  const trail = openTrail(order.folder, { now });
  const who = { role: 'command line', group: null, label: String(process.pid) };
  const entries = Array.from({ length: order.times }, () => trail.write({ who, deed: 'signed-in' }));
  await Promise.all(entries);
  return 'written';
}

process.on('message', async (order: Order) => {
  const answer = await done(order).catch((error: unknown) => {
    if (error instanceof FolderServedError) return error.message;
    throw error;
  });
  process.send?.(answer);
});
process.send?.('ready');
