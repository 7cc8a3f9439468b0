/** What a document is made from, so that it can be made again. */
export interface Origin {
  readonly course: string;
  /** Of Emberline. */
  readonly version: string;
  /** SHA-256 of experiment.yaml, hexadecimal. */
  readonly experimentHash: string;
}

/**
 * The foot of every page: version and inputs. The day of printing is left out, so that the same input gives the same
 * bytes.
 *
 * @param inputs what else it is made from, in words; null for nothing else
 */
export function madeBy({ version, experimentHash }: Origin, inputs: string | null): string {
  const made = `Emberline ${version} · experiment file ${shortHash(experimentHash)}`;
  return inputs === null ? made : `${made} · ${inputs}`;
}

/** As much of a hash as tells files apart on paper. */
export function shortHash(hash: string): string {
  return hash.slice(0, 12);
}

/** A hash in groups of 16 digits, between which a line may break. */
export function hashWords(hash: string): string {
  return hash.replace(/.{16}(?=.)/g, '$& ');
}
