/**
 * Every call of the server as a hook. Queries keep what they have while they ask again; a failure is a
 * ProblemError, to be shown by <Trouble error={…} again={…} />.
 *
 *   const { data, error, refetch } = useRecording(path);
 *   const decide = useDecide(path);   decide.mutate({ kind: 'reject', who, why })
 *
 * `useServerEvents` listens to the server (the frame does it once) and renews what has changed.
 */
import { keepPreviousData, useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import type {
  ChangeRequest,
  DecisionRequest,
  Detail,
  EnterRequest,
  KeepRequest,
  Marks,
  ReadOptionsView,
  RigCheckRequest,
  RigReferenceRequest,
  RigWithdrawRequest,
} from '../../../src/server/contract/index.ts';
import { calls, ProblemError } from './calls.ts';
import { listenToServer, type ServerWord } from './server-events.ts';

/** Names of what is kept; the first word alone stands for all of its kind. */
export const keys = {
  session: ['session'],
  experiment: ['experiment'],
  recordings: ['recordings'],
  recording: (path: string) => ['recording', path],
  preview: (path: string, marks: Marks | null) => ['preview', path, marks],
  readings: (path: string, from: number, to: number, points: number) => ['readings', path, from, to, points],
  reading: (path: string) => ['reading', path],
  steps: (path: string) => ['steps', path],
  comparison: ['comparison'],
  classOf: (section: string | null) => ['class', section],
  rig: ['rig'],
  rigCorrelation: ['rig-correlation'],
  submissions: ['submissions'],
  groupSubmission: (group: string) => ['submissions', group],
} as const;

/**
 * Whether a call that failed is worth another try: what the server refused (RFC 9110, 15.5) it refuses again.
 *
 * @param failures before this one
 */
export function tryAgain(failures: number, error: Error): boolean {
  const refused = error instanceof ProblemError && error.problem.status >= 400 && error.problem.status < 500;
  return failures < 1 && !refused;
}

/** Who is signed in here, and which places that opens. */
export function useSession() {
  return useQuery({ queryKey: keys.session, queryFn: calls.session, staleTime: Number.POSITIVE_INFINITY });
}

export function useExperiment() {
  return useQuery({ queryKey: keys.experiment, queryFn: calls.experiment });
}

/** The difference that changes of values would make to the experiment file. Nothing is written. */
export function useChange() {
  return useMutation({ mutationFn: (request: ChangeRequest) => calls.change(request) });
}

/** Writes the experiment file; what hangs on it is asked for again. */
export function useSave() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: { hash: string; text: string }) => calls.save(request),
    onSuccess: (experiment) => {
      client.setQueryData(keys.experiment, experiment);
      void client.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== 'experiment' });
    },
  });
}

export function useRecordings() {
  return useQuery({ queryKey: keys.recordings, queryFn: calls.recordings });
}

export function useRecording(path: string) {
  return useQuery({ queryKey: keys.recording(path), queryFn: () => calls.recording(path) });
}

/** The result by other marks; null asks for nothing. The last one stays until the next is there. */
export function usePreview(path: string, marks: Marks | null) {
  return useQuery<Detail | null>({
    queryKey: keys.preview(path, marks),
    queryFn: ({ signal }) => (marks === null ? null : calls.preview(path, marks, signal)),
    enabled: marks !== null,
    placeholderData: keepPreviousData,
    // Marks that move are hardly ever the same twice.
    gcTime: 2000,
    retry: false,
  });
}

/** Keeps a decision; the recording, the list and the comparison follow. */
export function useDecide(path: string) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: DecisionRequest) => calls.decide(path, request),
    onSuccess: () =>
      Promise.all([
        client.invalidateQueries({ queryKey: keys.recording(path) }),
        client.invalidateQueries({ queryKey: keys.reading(path) }),
        client.invalidateQueries({ queryKey: keys.steps(path) }),
        client.invalidateQueries({ queryKey: keys.recordings }),
        client.invalidateQueries({ queryKey: keys.comparison }),
        client.invalidateQueries({ queryKey: ['class'] }),
      ]),
  });
}

/** How a recording's file is read by what counts now: also where it cannot be read. */
export function useReading(path: string) {
  return useQuery({ queryKey: keys.reading(path), queryFn: () => calls.reading(path, null) });
}

/** How it would be read by other options. Nothing is kept. */
export function useTryReading(path: string) {
  return useMutation({ mutationFn: (options: ReadOptionsView) => calls.reading(path, options) });
}

export function useSteps(path: string) {
  return useQuery({ queryKey: keys.steps(path), queryFn: () => calls.steps(path) });
}

export function useComparison() {
  return useQuery({ queryKey: keys.comparison, queryFn: calls.comparison });
}

/** The class rolled up, or one section of it; the last one stays until the next is there. */
export function useClass(section: string | null) {
  return useQuery({
    queryKey: keys.classOf(section),
    queryFn: () => calls.classOf(section),
    placeholderData: keepPreviousData,
  });
}

export function useReadAgain(id: string) {
  return useMutation({ mutationFn: (options: ReadOptionsView) => calls.readAgain(id, options) });
}

export function useKeep(id: string) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: KeepRequest) => calls.keep(id, request),
    onSuccess: () => client.invalidateQueries({ queryKey: keys.recordings }),
  });
}

export function useRigCorrelation(enabled = true) {
  return useQuery({ queryKey: keys.rigCorrelation, queryFn: calls.rigCorrelation, enabled });
}

export function useRig() {
  return useQuery({ queryKey: keys.rig, queryFn: calls.rig });
}

/** Keeps a check of a rig; what recordings say of it follows. */
export function useCheckRig() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: RigCheckRequest) => calls.checkRig(request),
    onSuccess: (rig) => client.setQueryData(keys.rig, rig),
  });
}

export function useKeepReference() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: RigReferenceRequest) => calls.keepReference(request),
    onSuccess: (rig) => client.setQueryData(keys.rig, rig),
  });
}

export function useWithdrawRigCheck() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: RigWithdrawRequest) => calls.withdrawRigCheck(request),
    onSuccess: (rig) => client.setQueryData(keys.rig, rig),
  });
}

export function useSubmissions() {
  return useQuery({ queryKey: keys.submissions, queryFn: calls.submissions });
}

/** @param handedIn whether there is anything to ask for */
export function useGroupSubmission(group: string, handedIn: boolean) {
  return useQuery({
    queryKey: keys.groupSubmission(group),
    queryFn: () => calls.groupSubmission(group),
    enabled: handedIn,
  });
}

/** Keeps values that were typed in; the list of groups follows. */
export function useEnterValues(group: string) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (request: EnterRequest) => calls.enterValues(group, request),
    onSuccess: (assessed) => {
      client.setQueryData(keys.groupSubmission(group), assessed);
      return client.invalidateQueries({ queryKey: keys.submissions, exact: true });
    },
  });
}

export function useTakeSheet() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: calls.takeSheet,
    onSuccess: () => client.invalidateQueries({ queryKey: keys.submissions }),
  });
}

/** While many recordings are analyzed the list is asked for again at most this often, ms. */
const pause = 700;

const hangsOnRecordings = [
  'recordings',
  'recording',
  'reading',
  'steps',
  'comparison',
  'class',
  'rig-correlation',
  'submissions',
];

/** What is to be asked for again, by what the server tells. */
const stale: Readonly<Record<ServerWord, readonly string[]>> = {
  progress: ['recordings'],
  recordings: hangsOnRecordings,
  experiment: ['experiment', 'rig', ...hangsOnRecordings],
  rig: ['rig', ...hangsOnRecordings],
  missed: ['experiment', 'rig', ...hangsOnRecordings],
};

/** Listens to the server and renews what has changed. The browser connects again by itself. */
export function useServerEvents(): void {
  const client = useQueryClient();
  useEffect(() => {
    const waiting = new Set<string>();
    let timer: ReturnType<typeof setTimeout> | null = null;
    const end = listenToServer((word) => {
      for (const kind of stale[word]) waiting.add(kind);
      timer ??= setTimeout(() => {
        timer = null;
        const due = new Set(waiting);
        waiting.clear();
        void client.invalidateQueries({ predicate: ({ queryKey }) => due.has(String(queryKey[0])) });
      }, pause);
    });
    return () => {
      if (timer !== null) clearTimeout(timer);
      end();
    };
  }, [client]);
}
