import type { Trail, Transfers, Uploads } from '../store/index.ts';
import type { Identity } from './access/identify.ts';
import type { Room } from './access/room.ts';
import type { Downloads } from './downloads.ts';
import type { Mine } from './mine.ts';
import type { PageFiles } from './page.ts';
import type { Recordings } from './recordings.ts';
import type { SharedFloor } from './shared-floor.ts';
import type { Submissions } from './submissions.ts';
import type { UploadRate } from './upload-rate.ts';

/** How a server is reached. */
export interface Reach {
  /** Host names and addresses by which requests may ask for it (DNS rebinding), in small letters. */
  readonly names: ReadonlySet<string>;
  /** Of the addresses that browsers show. */
  readonly scheme: 'http' | 'https';
  /** Where people open it, for people. */
  readonly addresses: readonly string[];
  /** SHA-256 of the certificate; null where it shows none. */
  readonly fingerprint: string | null;
}

/** What the server works with. */
export interface ServerContext {
  /** Path of the experiment folder. */
  readonly folder: string;
  readonly identity: Identity;
  /** Who comes in where others reach the server; null where only its own machine does. */
  readonly room: Room | null;
  readonly reach: Reach;
  readonly recordings: Recordings;
  readonly uploads: Uploads;
  /** Files on their way. */
  readonly transfers: Transfers;
  readonly uploadRate: UploadRate;
  readonly submissions: Submissions;
  /** Who did what in the folder; written to before a deed is acknowledged. */
  readonly trail: Trail;
  readonly mine: Mine;
  readonly floor: SharedFloor;
  readonly downloads: Downloads;
  /** Files of the built page, as they are now. */
  readonly page: () => Promise<PageFiles>;
  /** Where faults of the server itself are written, for whoever started it. */
  readonly log: (text: string) => void;
  /** Most bytes of an uploaded file. */
  readonly largestUpload: number;
}
