import { type ClientDeed, type Desk, keepWaiting } from './clients.ts';
import { recordingText } from './course.ts';
import { sha256 } from './ledger.ts';

/** A file that is on its way, over as many kills as it takes. */
interface OnItsWay {
  readonly address: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly hash: string;
  /** What the server said is safe. */
  safe: number;
}

const tus = { 'tus-resumable': '1.0.0' };
const pieces = 3;

/** Sends recordings in pieces by the open protocol tus 1.0.0, and goes on after a kill from where the server is. */
export function sendInPieces(): ClientDeed {
  let open: OnItsWay | null = null;
  return async (desk) => {
    open ??= await begun(desk);
    if (open === null) return 'refused';
    const { address, bytes, hash } = open;
    const seen = await fetch(`${desk.base()}${address}`, { method: 'HEAD', headers: tus });
    const offset = Number(seen.headers.get('upload-offset') ?? '-1');
    if (seen.status === 404 && open.safe === bytes.length) {
      // It was kept, and the answer that said so was broken off.
      desk.ledger.keptSomewhere.add(hash);
      open = null;
      return 'done';
    }
    if (!seen.ok || offset < open.safe) {
      desk.ledger.faults.push(`${address}: ${open.safe} bytes were safe, and ${seen.status} says ${offset}`);
      open = null;
      return 'refused';
    }
    open.safe = offset;
    while (open.safe < bytes.length) {
      const piece = bytes.subarray(open.safe, open.safe + Math.ceil(bytes.length / pieces));
      const headers = {
        ...tus,
        'content-type': 'application/offset+octet-stream',
        'upload-offset': String(open.safe),
      };
      const answer = await fetch(`${desk.base()}${address}`, { method: 'PATCH', headers, body: piece });
      if (!answer.ok) return 'refused';
      open.safe = Number(answer.headers.get('upload-offset'));
    }
    const kept = await keepWaiting(desk, address.split('/').at(-1) ?? '', hash);
    if (kept === 'done') open = null;
    return kept;
  };
}

async function begun(desk: Desk): Promise<OnItsWay | null> {
  const bytes = new TextEncoder().encode(recordingText(desk.random, desk.word()));
  const hash = sha256(bytes);
  desk.ledger.sent.add(hash);
  const name = Buffer.from(`${hash.slice(0, 8)}.txt`).toString('base64');
  const headers = {
    ...tus,
    'upload-length': String(bytes.length),
    'upload-metadata': `filename ${name}`,
  };
  const answer = await fetch(`${desk.base()}/api/transfers`, { method: 'POST', headers });
  const address = answer.headers.get('location');
  return answer.ok && address !== null ? { address, bytes, hash, safe: 0 } : null;
}
