/** Something that was found in a folder: a fault where something is missing or changed, a note where it is only worth knowing. */
export interface Finding {
  readonly kind: 'fault' | 'note';
  /** In sentences, with what to do. */
  readonly message: string;
}
