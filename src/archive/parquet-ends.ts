import { open } from 'node:fs/promises';

/** First and last bytes of a Parquet file (Apache Parquet file format, section 'File format'). */
const magic = 'PAR1';

/** Whether a file is named, begins and ends as Parquet files do; false where there is none. */
export async function isParquet(path: string): Promise<boolean> {
  return path.endsWith('.parquet') && (await footerSize(path)) !== null;
}

/** Size of what a Parquet file says of itself, bytes; null where it is no such file. */
export async function footerSize(path: string): Promise<number | null> {
  const handle = await open(path, 'r').catch(() => null);
  if (handle === null) return null;
  try {
    const found = await handle.stat();
    if (!found.isFile() || found.size < 12) return null;
    const ends = Buffer.alloc(12);
    await handle.read(ends, 0, 4, 0);
    await handle.read(ends, 4, 8, found.size - 8);
    const isMarked = ends.toString('latin1', 0, 4) === magic && ends.toString('latin1', 8, 12) === magic;
    return isMarked ? ends.readUInt32LE(4) : null;
  } finally {
    await handle.close();
  }
}
