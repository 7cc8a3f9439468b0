const endOfDirectory = 0x06054b50;
const directoryEntry = 0x02014b50;
/** 1 January 1980, 0:00 in the date and time of a ZIP entry: the earliest that there is. */
const earliest = 0x00210000;

/**
 * Sets the times of all entries of a ZIP archive to the same moment, so that the same content gives the same bytes
 * (PKWARE APPNOTE 6.3.10, 4.3.7, 4.3.12 and 4.3.16).
 *
 * @param archive in one part, without a comment; it is changed in place
 * @throws where it is no such archive
 */
export function withoutTimes(archive: Uint8Array): Uint8Array {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const end = archive.byteLength - 22;
  if (end < 0 || view.getUint32(end, true) !== endOfDirectory) throw new Error('This is no ZIP archive.');
  let at = view.getUint32(end + 16, true);
  for (let entries = view.getUint16(end + 10, true); entries > 0; entries--) {
    if (view.getUint32(at, true) !== directoryEntry) throw new Error('The directory of the archive is torn.');
    view.setUint32(at + 12, earliest, true);
    view.setUint32(view.getUint32(at + 42, true) + 10, earliest, true);
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return archive;
}
