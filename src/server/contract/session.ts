/** Who can sign in. On the machine of the server itself everybody is the instructor. */
export const roles = ['instructor', 'assistant', 'group', 'display'] as const;

export type Role = (typeof roles)[number];
