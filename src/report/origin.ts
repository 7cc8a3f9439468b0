/** What a document is made from, so that it can be made again. */
export interface Origin {
  readonly course: string;
  /** Of Emberline. */
  readonly version: string;
  /** SHA-256 of experiment.yaml, hexadecimal. */
  readonly experimentHash: string;
}

/** The foot of every page: version and inputs. The day of printing is left out, so that the same input gives the same bytes. */
export function madeBy({ version, experimentHash }: Origin, hashes: readonly string[]): string {
  const inputs = hashes.length === 1 ? `recording ${short(hashes[0] ?? '')}` : `${hashes.length} recordings`;
  return `Emberline ${version} · experiment file ${short(experimentHash)} · ${inputs}`;
}

function short(hash: string): string {
  return hash.slice(0, 12);
}
