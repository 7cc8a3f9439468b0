import type { Trail, Uploads } from '../store/index.ts';
import type { Identity } from './access/identify.ts';
import type { Downloads } from './downloads.ts';
import type { PageFiles } from './page.ts';
import type { Recordings } from './recordings.ts';
import type { SharedFloor } from './shared-floor.ts';
import type { Submissions } from './submissions.ts';

/** What the server works with. */
export interface ServerContext {
  /** Path of the experiment folder. */
  readonly folder: string;
  readonly identity: Identity;
  readonly recordings: Recordings;
  readonly uploads: Uploads;
  readonly submissions: Submissions;
  /** Who did what in the folder; written to before a deed is acknowledged. */
  readonly trail: Trail;
  readonly floor: SharedFloor;
  readonly downloads: Downloads;
  /** Files of the built page, as they are now. */
  readonly page: () => Promise<PageFiles>;
  /** Where faults of the server itself are written, for whoever started it. */
  readonly log: (text: string) => void;
  /** Most bytes of an uploaded file. */
  readonly largestUpload: number;
}
