import { availableParallelism } from 'node:os';
import { resolve } from 'node:path';
import { listCrew } from '../analysis/index.ts';
import { openFloor } from '../floor/index.ts';
import { openTrail, openTransfers, openUploads, usualUploadLimits } from '../store/index.ts';
import { ownMachine } from './access/identify.ts';
import { openRoom } from './access/room.ts';
import { createApp } from './app.ts';
import type { Reach } from './context.ts';
import { openDownloads } from './downloads.ts';
import { folderRecordings } from './folder-recordings.ts';
import { type Listening, listen } from './listen.ts';
import { pageFiles } from './page.ts';
import { ownMachineOpening, type RoomOptions, roomOpening } from './room-options.ts';
import { shareFloor } from './shared-floor.ts';
import { openUploadRate } from './upload-rate.ts';

/** A server over one experiment folder. */
export interface Workbench {
  /** @throws PortTakenError */
  listen(port: number): Promise<OpenedWorkbench>;
  /** Ends the work in the background. */
  close(): Promise<void>;
}

/** A workbench that listens. */
export interface OpenedWorkbench extends Listening {
  readonly reach: Reach;
}

/** What a workbench is opened over. */
export interface WorkbenchOptions {
  /** Folder that holds experiment.yaml. */
  readonly folder: string;
  /** Folder of the built page. */
  readonly pageFolder: string;
  /** Module of a thread that analyzes recordings; null leaves them to this thread. */
  readonly worker?: URL | null;
  /** Module of a process that makes documents and exports; null leaves them to this one. */
  readonly downloadProcess?: URL | null;
  /** How others reach it; null where only this machine does. */
  readonly room?: RoomOptions | null;
  readonly log: (text: string) => void;
}

/**
 * Opens the workbench: work on the recordings begins in the background.
 *
 * @throws Error where a certificate does not fit; StoreError where what lets people in cannot be read or kept
 */
export async function openWorkbench({
  folder,
  pageFolder,
  worker = null,
  downloadProcess = null,
  room: roomOptions = null,
  log,
}: WorkbenchOptions): Promise<Workbench> {
  const whole = resolve(folder);
  const clock = { now: () => Date.now() };
  const opening =
    roomOptions === null ? ownMachineOpening : await roomOpening(whole, roomOptions, clock.now());
  const room = roomOptions === null ? null : await openRoom(whole, clock.now);
  // One processor stays free to answer the page.
  const crew = worker === null ? null : listCrew(worker, Math.max(1, availableParallelism() - 1));
  const recordings = await folderRecordings(whole, log, crew);
  const uploads = openUploads(whole);
  await uploads.sweep(clock.now());
  const transfers = openTransfers(whole, uploads);
  const uploadRate = openUploadRate();
  const page = () => pageFiles(pageFolder);
  const trail = openTrail(whole, clock);
  const floor = shareFloor(() => {
    return openFloor({ folder: whole, clock, ...(crew === null ? {} : { analyst: crew.analyst }) });
  });
  const downloads = openDownloads(whole, downloadProcess);
  const { submissions, mine } = recordings;
  const appAt = (reach: Reach) =>
    createApp({
      folder: whole,
      identity: room ?? ownMachine,
      room,
      reach,
      trail,
      recordings,
      uploads,
      transfers,
      uploadRate,
      submissions,
      mine,
      floor,
      downloads,
      page,
      log,
      largestUpload: usualUploadLimits.largest,
    });
  return {
    listen: async (port) => {
      const { address, certificate, reachAt } = opening;
      const listening = await listen((at) => appAt(reachAt(at)), { port, address, certificate });
      return { ...listening, reach: reachAt(listening.port) };
    },
    close: async () => {
      await downloads.close();
      await floor.close();
      await recordings.close();
      await room?.close();
    },
  };
}
