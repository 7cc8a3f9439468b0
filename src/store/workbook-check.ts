import { inflateRawSync } from 'node:zlib';

/** Most that a workbook may hold when it is unpacked, bytes, and how many parts. */
const mostUnpacked = 20 << 20;
const mostParts = 500;
/** Cells farther out than this are no sheet that a group fills in. */
const farthestRow = 20_000;
const farthestColumn = 300;

const endMark = 0x06054b50;
const entryMark = 0x02014b50;
const localMark = 0x04034b50;

/**
 * Looks through an XLSX file (ECMA-376; a ZIP archive by APPNOTE 6.3.3) before a reader unpacks it: a small file can
 * unpack to more than memory holds, or say that it will, and one cell far out makes a table of billions.
 *
 * @param bytes of the file
 * @returns null where it may be read, else why not, as the end of a sentence that begins with "it"
 */
export function workbookTrouble(bytes: Uint8Array): string | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    return troubleIn(bytes, view);
  } catch (error) {
    // Places beyond the end of the file, and packed data that is none.
    if (error instanceof RangeError || (error instanceof Error && 'code' in error)) return damaged;
    throw error;
  }
}

const damaged = 'is damaged';
const tooLarge = `unpacks to more than ${mostUnpacked >> 20} MiB`;

function troubleIn(bytes: Uint8Array, view: DataView): string | null {
  const end = endOfArchive(view);
  if (end === null) return 'is no workbook';
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (count > mostParts) return `has more than ${mostParts} parts`;
  const names = new Set<string>();
  let left = mostUnpacked;
  for (let i = 0; i < count; i += 1) {
    if (view.getUint32(at, true) !== entryMark) return damaged;
    const flags = view.getUint16(at + 8, true);
    const method = view.getUint16(at + 10, true);
    const packed = view.getUint32(at + 20, true);
    const stated = view.getUint32(at + 24, true);
    const nameLength = view.getUint16(at + 28, true);
    const name = new TextDecoder('latin1').decode(bytes.subarray(at + 46, at + 46 + nameLength));
    const local = view.getUint32(at + 42, true);
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if ((flags & 1) !== 0) return 'is encrypted';
    if (names.has(name)) return damaged;
    names.add(name);
    if (!/\.xml(?:\.rels)?$/.test(name)) continue;
    if (stated > left) return tooLarge;
    if (method !== 0 && method !== 8) return 'is packed in a way that is not usual';
    if (view.getUint32(local, true) !== localMark) return damaged;
    const from = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    const content = bytes.subarray(from, from + packed);
    const unpacked = method === 0 ? content : inflateRawSync(content, { maxOutputLength: left + 1 });
    left -= unpacked.length;
    if (left < 0) return tooLarge;
    if (unpacked.length !== stated) return damaged;
    if (/^xl\/worksheets\//i.test(name) && reachesFar(unpacked)) {
      return `has cells beyond row ${farthestRow} or column ${farthestColumn}`;
    }
  }
  return null;
}

/** Where the directory of the archive is described, at the end of the file, before a comment. */
function endOfArchive(view: DataView): number | null {
  const last = view.byteLength - 22;
  for (let at = last; at >= 0 && at >= last - 0xffff; at -= 1) {
    if (view.getUint32(at, true) === endMark) return at;
  }
  return null;
}

/** Addresses of rows and cells, as `<row r="12"` and `<c r="AB12"`. */
const address = /<(?:\w{1,20}:)?(?:c|row)\s(?:[^<>]{0,400}?\s)?r\s*=\s*["']\s*([A-Za-z]{0,8})(\d{0,12})/g;

function reachesFar(sheet: Uint8Array): boolean {
  for (const [, letters = '', digits = ''] of new TextDecoder().decode(sheet).matchAll(address)) {
    if (letters.length > 3 || Number(digits) > farthestRow) return true;
    const column = [...letters.toUpperCase()].reduce((sum, one) => 26 * sum + one.charCodeAt(0) - 64, 0);
    if (column > farthestColumn) return true;
  }
  return false;
}
