/** What somebody shows to be let in. */
export type Credentials =
  | { readonly as: 'group'; readonly group: string; readonly code: string }
  | { readonly as: 'instructor' | 'assistant' | 'display'; readonly secret: string };

/**
 * What a program without a browser shows (RFC 7617): a group's code with its join code, or `assistant` with theirs. The
 * passphrase of the instructor does not go this way: it would be worked out at each request.
 *
 * @param header of the request
 * @returns null where there is none that fits
 */
export function basicCredentials(header: string | undefined): Credentials | null {
  const coded = /^Basic ([A-Za-z0-9+/=]{1,1000})$/i.exec(header ?? '')?.[1];
  if (coded === undefined) return null;
  const text = Buffer.from(coded, 'base64').toString('utf8');
  const colon = text.indexOf(':');
  if (colon < 1) return null;
  const [user, secret] = [text.slice(0, colon), text.slice(colon + 1)];
  if (user === 'instructor' || user === 'display') return null;
  return user === 'assistant' ? { as: user, secret } : { as: 'group', group: user, code: secret };
}
