import type {
  ChangeRequest,
  ChangeView,
  ClassView,
  ComparisonView,
  Decision,
  DecisionRequest,
  Detail,
  EnterRequest,
  ExperimentView,
  GroupSubmission,
  KeepRequest,
  Marks,
  Problem,
  Readings,
  ReadOptionsView,
  RecordingList,
  RecordingReading,
  RigCheckRequest,
  RigCorrelationView,
  RigReferenceRequest,
  RigView,
  RigWithdrawRequest,
  SessionView,
  Steps,
  SubmissionsView,
  UploadView,
} from '../../../src/server/contract/index.ts';
import { remarksHeader } from '../../../src/server/contract/remarks-header.ts';
import { fileNameFrom, remarksFrom } from './file-headers.ts';

/** What the server could not do, with what to do about it. */
export class ProblemError extends Error {
  override readonly name = 'ProblemError';
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(problem.detail);
    this.problem = problem;
  }
}

const unreachable: Problem = {
  type: 'about:blank',
  title: 'The server does not answer',
  status: 0,
  detail: 'The page has lost its server; nothing that was kept is lost.',
  mend: 'See whether the command in the terminal still runs, start it again, and reload.',
};

/**
 * Asks the server.
 *
 * @throws ProblemError
 */
export async function call<T>(path: string, init?: RequestInit): Promise<T> {
  const response = await fetch(path, init).catch(() => {
    throw new ProblemError(unreachable);
  });
  // The contract is checked where answers are made: both ends come from one build.
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return body as T;
  throw refusal(body, response.status);
}

/** A refusal in the words of the server, where it has any. */
export function refusal(body: unknown, status: number): ProblemError {
  return new ProblemError(isProblem(body) ? body : { ...unreachable, status });
}

/** A file that the server made. */
export interface MadeFile {
  readonly content: Blob;
  readonly name: string;
  /** What to know about it, in sentences. */
  readonly remarks: readonly string[];
}

/**
 * Has a file made.
 *
 * @throws ProblemError; the reason of the signal where it is given up
 */
export async function fetchFile(address: string, signal: AbortSignal): Promise<MadeFile> {
  const response = await fetch(address, { signal }).catch(() => {
    signal.throwIfAborted();
    throw new ProblemError(unreachable);
  });
  if (!response.ok) {
    const body: unknown = await response.json().catch(() => null);
    throw refusal(body, response.status);
  }
  return {
    content: await response.blob(),
    name: fileNameFrom(response.headers.get('content-disposition') ?? ''),
    remarks: remarksFrom(response.headers.get(remarksHeader)),
  };
}

function isProblem(body: unknown): body is Problem {
  return typeof body === 'object' && body !== null && 'detail' in body && 'mend' in body;
}

/** A request with a body in JSON. */
export function sending(method: 'POST' | 'PUT' | 'DELETE', body: unknown): RequestInit {
  return { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
}

/** A recording's path as part of an address. */
export function inAddress(path: string): string {
  return path.split('/').map(encodeURIComponent).join('/');
}

/** Every call that the page makes, by what it does. All answer within the contract or throw ProblemError. */
export const calls = {
  session: () => call<SessionView>('/api/session'),
  signOut: () => call<SessionView>('/api/session', sending('DELETE', {})),
  experiment: () => call<ExperimentView>('/api/experiment'),
  change: (request: ChangeRequest) => call<ChangeView>('/api/experiment/change', sending('POST', request)),
  save: (request: { hash: string; text: string }) =>
    call<ExperimentView>('/api/experiment', sending('PUT', request)),
  recordings: () => call<RecordingList>('/api/recordings'),
  recording: (path: string) => call<Detail>(`/api/recordings/${inAddress(path)}/analysis`),
  preview: (path: string, marks: Marks, signal?: AbortSignal) =>
    call<Detail>(`/api/recordings/${inAddress(path)}/preview`, {
      ...sending('POST', { marks }),
      ...(signal === undefined ? {} : { signal }),
    }),
  /** How the file of a recording is read by some options; null for those that count. */
  reading: (path: string, options: ReadOptionsView | null) =>
    call<RecordingReading>(`/api/recordings/${inAddress(path)}/reading`, sending('POST', { options })),
  decide: (path: string, request: DecisionRequest) =>
    call<Decision[]>(`/api/recordings/${inAddress(path)}/decisions`, sending('POST', request)),
  readings: (path: string, from: number, to: number, points: number, signal?: AbortSignal) =>
    call<Readings>(
      `/api/recordings/${inAddress(path)}/readings?from=${from}&to=${to}&points=${points}`,
      signal === undefined ? undefined : { signal },
    ),
  steps: (path: string) => call<Steps>(`/api/recordings/${inAddress(path)}/steps`),
  comparison: () => call<ComparisonView>('/api/compare'),
  /** The same from the recordings of some groups alone. */
  comparisonOf: (groups: readonly string[]) =>
    call<ComparisonView>(`/api/compare?${groups.map((one) => `group=${encodeURIComponent(one)}`).join('&')}`),
  classOf: (section: string | null) =>
    call<ClassView>(section === null ? '/api/class' : `/api/class?section=${encodeURIComponent(section)}`),
  rig: () => call<RigView>('/api/rig'),
  rigCorrelation: () => call<RigCorrelationView>('/api/rig/correlation'),
  checkRig: (request: RigCheckRequest) => call<RigView>('/api/rig/checks', sending('POST', request)),
  keepReference: (request: RigReferenceRequest) =>
    call<RigView>('/api/rig/references', sending('POST', request)),
  withdrawRigCheck: (request: RigWithdrawRequest) =>
    call<RigView>('/api/rig/withdrawals', sending('POST', request)),
  submissions: () => call<SubmissionsView>('/api/submissions'),
  groupSubmission: (group: string) => call<GroupSubmission>(`/api/submissions/${encodeURIComponent(group)}`),
  enterValues: (group: string, request: EnterRequest) =>
    call<GroupSubmission>(`/api/submissions/${encodeURIComponent(group)}`, sending('POST', request)),
  /** @param group null where the rows of the sheet say whose it is */
  takeSheet: ({ file, group }: { file: File; group: string | null }) =>
    call<{ path: string }>(
      `/api/sheets?name=${encodeURIComponent(file.name)}${group === null ? '' : `&group=${encodeURIComponent(group)}`}`,
      { method: 'POST', body: file },
    ),
  readAgain: (id: string, options: ReadOptionsView) =>
    call<UploadView>(`/api/uploads/${id}/read`, sending('POST', { options })),
  keep: (id: string, request: KeepRequest) =>
    call<{ path: string }>(`/api/uploads/${id}/keep`, sending('POST', request)),
};
