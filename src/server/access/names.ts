import { hostname, networkInterfaces } from 'node:os';

/** Names under which only this machine is reached. */
export const ownNames: readonly string[] = ['localhost', '127.0.0.1'];

/**
 * Names and addresses under which others reach this machine: those of its network, without those that only a link
 * knows.
 *
 * @param address that the server listens on; all where it is none in particular
 * @param more that a person has said
 */
export function roomNames(address: string, more: readonly string[]): readonly string[] {
  const all = address === '0.0.0.0' || address === '::';
  const host = hostname().toLowerCase();
  const hosts = /^[a-z0-9][a-z0-9.-]*$/.test(host)
    ? [host, ...(host.includes('.') ? [] : [`${host}.local`])]
    : [];
  return [
    ...new Set([
      ...more.map((one) => one.toLowerCase()),
      ...hosts,
      ...(all ? addresses() : [address]),
      ...ownNames,
    ]),
  ];
}

function addresses(): string[] {
  return Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter(
      ({ address, internal, family }) => !internal && family === 'IPv4' && !address.startsWith('169.254.'),
    )
    .map(({ address }) => address);
}

/** Whether the host of a request, with its port or without, goes by one of these names. */
export function isNamed(host: string, names: ReadonlySet<string>): boolean {
  const name = /^(\[[0-9a-f:.]+\]|[^:[\]]+)(?::\d{1,5})?$/i.exec(host)?.[1]?.toLowerCase();
  return name !== undefined && names.has(name);
}
