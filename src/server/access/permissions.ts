import { type Role, roles } from '../contract/index.ts';

const everybody = 'everybody';
const signedIn = roles;
const instructor = ['instructor'] as const;
/** Those who run the session. */
const staff = ['instructor', 'assistant'] as const;
/** Those who hand recordings in. */
const benches = ['instructor', 'assistant', 'group'] as const;

const group = ['group'] as const;

/** Who may ask for something; `everybody` needs no signing in. */
export type Permission = typeof everybody | readonly Role[];

/**
 * Who may do what: the only place that says so. Each route stands here by its method and address; what does not stand
 * here is refused. What a group may ask for is about its own bench: the route sees to that.
 */
export const permissions: Readonly<Record<string, Permission>> = {
  // The page's program, which holds nothing of the folder.
  'GET /*': everybody,
  'GET /api/openapi.json': signedIn,

  'GET /api/session': everybody,
  'POST /api/session': everybody,
  'DELETE /api/session': everybody,
  'GET /api/room': instructor,
  'POST /api/room/codes': instructor,
  'POST /api/room/ends': instructor,

  'GET /api/experiment': staff,
  'POST /api/experiment/change': instructor,
  'PUT /api/experiment': instructor,
  'GET /api/events': staff,

  'GET /api/recordings': staff,
  'GET /api/recordings/:path{.+}/analysis': staff,
  'POST /api/recordings/:path{.+}/preview': staff,
  'POST /api/recordings/:path{.+}/reading': staff,
  'POST /api/recordings/:path{.+}/decisions': staff,
  'GET /api/recordings/:path{.+}/readings': staff,
  'GET /api/recordings/:path{.+}/steps': staff,
  'GET /api/compare': instructor,
  'GET /api/class': instructor,

  'POST /api/uploads': benches,
  'POST /api/uploads/:id/read': benches,
  'POST /api/uploads/:id/keep': benches,
  'OPTIONS /api/transfers': benches,
  'POST /api/transfers': benches,
  'GET /api/transfers/:id': benches,
  'PATCH /api/transfers/:id': benches,
  'DELETE /api/transfers/:id': benches,
  'GET /api/handed-in': benches,
  'PUT /api/handed-in/:name': benches,

  'GET /api/rig': staff,
  'GET /api/rig/correlation': staff,
  'POST /api/rig/checks': staff,
  'POST /api/rig/references': staff,
  'POST /api/rig/withdrawals': staff,

  'GET /api/floor': ['instructor', 'assistant', 'display'],
  'GET /api/floor/events': ['instructor', 'assistant', 'display'],

  'GET /api/submissions': instructor,
  'GET /api/submissions/:group': instructor,
  'POST /api/submissions/:group': instructor,
  'POST /api/sheets': instructor,

  'GET /api/releases': staff,
  'POST /api/releases': instructor,
  'GET /api/trail': instructor,

  'GET /api/mine': group,
  'GET /api/mine/now': group,
  'GET /api/mine/events': group,
  'GET /api/mine/submission': group,
  'POST /api/mine/submission': group,
  'POST /api/mine/sheets': group,
  'GET /api/mine/feedback': group,
  'GET /api/mine/bench-sheet': group,

  'GET /api/documents/trial': staff,
  'GET /api/documents/worked': staff,
  'GET /api/documents/group': instructor,
  'GET /api/documents/class': instructor,
  'GET /api/documents/bench-sheet': staff,
  'GET /api/documents/briefing': staff,
  'GET /api/exports/results': instructor,
  'GET /api/exports/cooling': staff,
  'GET /api/exports/figure': staff,
};

/** Whether a permission lets somebody of a role through; null is nobody who has signed in. */
export function allows(permission: Permission, role: Role | null): boolean {
  return permission === everybody || (role !== null && permission.includes(role));
}
