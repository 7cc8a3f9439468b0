/** Everything that crosses the wire between server and page. */
export * from './compare.ts';
export * from './experiment.ts';
export * from './floor.ts';
export * from './parts.ts';
export * from './recording.ts';
export * from './rig.ts';
export * from './upload.ts';
