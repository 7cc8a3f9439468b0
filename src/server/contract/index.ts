/** Everything that crosses the wire between server and page. */
export * from './class.ts';
export * from './compare.ts';
export * from './download.ts';
export * from './experiment.ts';
export * from './floor.ts';
export * from './mine.ts';
export * from './parts.ts';
export * from './recording.ts';
export * from './releases.ts';
export * from './remarks-header.ts';
export * from './rig.ts';
export * from './session.ts';
export * from './submissions.ts';
export * from './trail.ts';
export * from './upload.ts';
