export { createApp } from './app.ts';
export type { ServerContext } from './context.ts';
export { type Listening, PortTakenError } from './listen.ts';
export type { FolderEvent, Recordings } from './recordings.ts';
export { openWorkbench, type Workbench, type WorkbenchOptions } from './workbench.ts';
