import type {
  EnterRequest,
  KeepRequest,
  Kept,
  MineFeedback,
  MineHandedIn,
  MineView,
  ReadOptionsView,
  ReleasesView,
  RoomView,
  SessionView,
  UploadView,
} from '../../../src/server/contract/index.ts';
import { call, sending } from '../api/calls.ts';

/** What somebody shows to be let in. */
export type SignIn =
  | { readonly as: 'group'; readonly group: string; readonly code: string }
  | { readonly as: 'instructor' | 'assistant' | 'display'; readonly secret: string };

/** Whose code is made anew. */
export type CodeHolder = 'assistant' | 'display' | { readonly group: string };

/** Every call that the page of a room makes; each answers within the contract or throws ProblemError. */
export const asking = {
  session: () => call<SessionView>('/api/session'),
  signIn: (shown: SignIn) => call<SessionView>('/api/session', sending('POST', shown)),
  signOut: () => call<SessionView>('/api/session', sending('DELETE', {})),
  room: () => call<RoomView>('/api/room'),
  renewCode: (of: CodeHolder) => call<RoomView>('/api/room/codes', sending('POST', { of })),
  signOutOf: (label: string) => call<RoomView>('/api/room/ends', sending('POST', { label })),
  releases: () => call<ReleasesView>('/api/releases'),
  release: (request: { section: string | null; released: boolean; who: string }) =>
    call<ReleasesView>('/api/releases', sending('POST', request)),
  mine: () => call<MineView>('/api/mine'),
  values: () => call<MineHandedIn>('/api/mine/submission'),
  handValuesIn: (request: EnterRequest) =>
    call<MineHandedIn>('/api/mine/submission', sending('POST', request)),
  handSheetIn: (file: File) =>
    call<MineHandedIn>(`/api/mine/sheets?name=${encodeURIComponent(file.name)}`, {
      method: 'POST',
      body: file,
    }),
  feedback: () => call<MineFeedback>('/api/mine/feedback'),
  read: (id: string, options: ReadOptionsView) =>
    call<UploadView>(`/api/uploads/${id}/read`, sending('POST', { options })),
  keep: (id: string, request: KeepRequest) => call<Kept>(`/api/uploads/${id}/keep`, sending('POST', request)),
};
