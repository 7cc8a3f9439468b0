/** Everything that the trail of a folder can say was done, in the words that stand in its files. */
export const deeds = {
  'server-started': 'started the server',
  'server-stopped': 'stopped the server',
  'trail-mended': 'took a torn line out of the trail',
  'signed-in': 'signed in',
  'sign-in-refused': 'tried to sign in and was refused',
  'signed-out': 'signed out',
  'codes-made': 'made codes to sign in with',
  'codes-withdrawn': 'took codes to sign in with back',
  'recording-kept': 'kept a recording',
  'sheet-taken': 'took a sheet in',
  'values-entered': 'entered values',
  decided: 'decided about a recording',
  'experiment-saved': 'saved the experiment file',
  'check-kept': 'kept a check of a rig',
  'reference-kept': 'kept a reference run',
  'entry-withdrawn': 'took an entry about a rig back',
  'recording-archived': 'archived a recording',
  'text-removed': 'removed the text of an archived recording',
  'results-released': 'released results',
  'results-withdrawn': 'took the release of results back',
} as const;

/** What was done, by its key. */
export type Deed = keyof typeof deeds;
