export { createApp } from './app.ts';
export { type Listening, PortTakenError } from './listen.ts';
export type { Recordings } from './recordings.ts';
export { openWorkbench } from './workbench.ts';
