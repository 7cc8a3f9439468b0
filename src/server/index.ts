export { createApp } from './app.ts';
export type { Reach } from './context.ts';
export { PortTakenError } from './listen.ts';
export type { Recordings } from './recordings.ts';
export type { RoomOptions } from './room-options.ts';
export { type OpenedWorkbench, openWorkbench } from './workbench.ts';
