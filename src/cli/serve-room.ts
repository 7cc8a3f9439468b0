import { readFile, stat } from 'node:fs/promises';
import type { Reach, RoomOptions } from '../server/index.ts';
import { openRoomAccess, readExperiment, readPassphrase, setPassphrase } from '../store/index.ts';
import { askPassphrase } from './ask-passphrase.ts';
import type { ServeCommandOptions } from './serve-command.ts';
import { type Ink, printable, type Surroundings } from './terminal.ts';

/** bytes */
const largestPem = 1 << 20;

const onlyWithRoom = ['address', 'name', 'certificate', 'key', 'proxy', 'passphraseFile'] as const;

/**
 * Makes the room ready, where one is asked for: there is a passphrase, and what proves who the server is.
 *
 * @throws Error where a passphrase is missing and nobody can be asked, or a file cannot be read; StoreError
 */
export async function roomFor(
  folder: string,
  options: ServeCommandOptions,
  surroundings: Surroundings,
): Promise<RoomOptions | null> {
  if (options.room !== true) {
    const [first] = onlyWithRoom.filter((option) => options[option] !== undefined);
    if (first === undefined) return null;
    const flag = first.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
    throw new Error(`--${flag} says something only about a room: add --room, or leave it out.`);
  }
  await requirePassphrase(folder, options.passphraseFile, surroundings);
  return {
    address: options.address ?? '0.0.0.0',
    names: options.name ?? [],
    certificate: await certificateOf(options),
    proxy: options.proxy ?? null,
  };
}

async function requirePassphrase(
  folder: string,
  file: string | undefined,
  surroundings: Surroundings,
): Promise<void> {
  const given =
    file === undefined ? surroundings.environment['EMBERLINE_PASSPHRASE'] : await readPassphrase(file);
  if (given !== undefined && given !== '') {
    await setPassphrase(folder, given);
    return;
  }
  const { groups } = await readExperiment(folder);
  const { passphrase } = await openRoomAccess(folder, Object.keys(groups));
  if (passphrase !== null) return;
  surroundings.stderr.write(
    'The room needs a passphrase by which the instructor signs in, of 15 characters or more.\n',
  );
  await setPassphrase(folder, await askPassphrase(surroundings));
}

async function certificateOf({ certificate, key }: ServeCommandOptions): Promise<RoomOptions['certificate']> {
  if (certificate === undefined && key === undefined) return null;
  if (certificate === undefined || key === undefined) {
    throw new Error('A certificate goes with its key: give both, --certificate and --key, or neither.');
  }
  return { certificate: await pem(certificate), key: await pem(key) };
}

async function pem(path: string): Promise<string> {
  const found = await stat(path).catch(() => null);
  if (found === null || !found.isFile() || found.size > largestPem) {
    throw new Error(`${path}: is no PEM file that can be read; check the path`);
  }
  return readFile(path, 'utf8');
}

/** What is printed once the server listens. */
export function openedText(folder: string, reach: Reach, ink: Ink): string {
  const { addresses, fingerprint, scheme } = reach;
  if (scheme === 'http') {
    return `${printable(folder)} is open at ${ink.strong(addresses[0] ?? '')}\nCtrl-C ends it.\n`;
  }
  return [
    `${printable(folder)} is open to the room at`,
    ...addresses.map((address) => `  ${ink.strong(address)}`),
    ...(fingerprint === null
      ? ['The proxy in front of it has the certificate: this server takes plain HTTP from this machine only.']
      : ['Fingerprint of its certificate (SHA-256):', ...halves(fingerprint).map((half) => `  ${half}`)]),
    `Codes to hand out: emberline room ${printable(folder)}`,
    'Ctrl-C ends it.',
    '',
  ].join('\n');
}

function halves(fingerprint: string): string[] {
  const pairs = fingerprint.split(':');
  const middle = pairs.length / 2;
  return [pairs.slice(0, middle).join(':'), pairs.slice(middle).join(':')];
}
