import { crc32 } from 'node:zlib';

/** Larger pictures are refused before anything unpacks them, px in all. */
const mostPixels = 40_000_000;

/** What a picture is, or a few words on why it cannot be used. */
export type PictureType =
  | { readonly ok: true; readonly type: 'image/png' | 'image/jpeg' }
  | { readonly ok: false; readonly why: string };

/**
 * Looks through a picture's structure, whatever its name says, so that a damaged file or one that unpacks to very much
 * is found before a document is set: PNG by its chunks and their check sums (ISO/IEC 15948, 5.2 to 5.6), JPEG by its
 * markers up to the scan (ITU-T T.81, B.1 and B.2).
 */
export function pictureType(bytes: Uint8Array): PictureType {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const starts = (first: readonly number[]) => first.every((byte, i) => bytes[i] === byte);
  if (starts(pngSignature)) return sized('image/png', pngSize(view, bytes));
  if (starts([0xff, 0xd8, 0xff])) return sized('image/jpeg', jpegSize(view));
  return { ok: false, why: 'holds neither PNG nor JPEG, whatever its name says' };
}

const pngSignature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

type Size = readonly [width: number, height: number];

function sized(type: 'image/png' | 'image/jpeg', size: Size | null): PictureType {
  if (size === null) return { ok: false, why: 'is damaged: save the picture anew' };
  const [width, height] = size;
  if (width > 0 && height > 0 && width * height <= mostPixels) return { ok: true, type };
  return { ok: false, why: `has ${width} × ${height} px, more than ${mostPixels} in all: make it smaller` };
}

function pngSize(view: DataView, bytes: Uint8Array): Size | null {
  let size: Size | null = null;
  let at = pngSignature.length;
  while (at + 12 <= view.byteLength) {
    const length = view.getUint32(at);
    if (length > view.byteLength - at - 12) return null;
    const sum = view.getUint32(at + 8 + length);
    if (crc32(bytes.subarray(at + 4, at + 8 + length)) !== sum) return null;
    const kind = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (size === null) {
      if (kind !== 'IHDR' || length !== 13) return null;
      size = [view.getUint32(at + 8), view.getUint32(at + 12)];
    }
    if (kind === 'IEND') return size;
    at += 12 + length;
  }
  return null;
}

function jpegSize(view: DataView): Size | null {
  let size: Size | null = null;
  let at = 2;
  while (at + 4 <= view.byteLength) {
    if (view.getUint8(at) !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      // Fill bytes may stand before a marker.
      at += 1;
      continue;
    }
    const length = view.getUint16(at + 2);
    if (length < 2 || at + 2 + length > view.byteLength) return null;
    if (isFrame(marker)) {
      if (length < 8) return null;
      size = [view.getUint16(at + 7), view.getUint16(at + 5)];
    }
    if (marker === 0xda) return endsInMarker(view) ? size : null;
    at += 2 + length;
  }
  return null;
}

/** Start of frame, but for the markers in between that mean something else (ITU-T T.81, table B.1). */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
}

/** End of image; some programs write a few bytes behind it. */
function endsInMarker(view: DataView): boolean {
  for (let at = view.byteLength - 2; at >= Math.max(0, view.byteLength - 64); at--) {
    if (view.getUint16(at) === 0xffd9) return true;
  }
  return false;
}
