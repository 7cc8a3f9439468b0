import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import type { z } from 'zod';
import { fileHash } from '../store/index.ts';
import { answered, keptAnswer, knownAnswer, RefusedError, readAnswer } from './send-answers.ts';
import type { SendOptions } from './send-command.ts';
import { type Asking, asking, OtherServerError, type SendTo } from './send-http.ts';
import { type Sent, sentAsJson, sentLines } from './send-present.ts';
import { insist, type SendNews, transfer } from './send-transfer.ts';
import {
  type ExitStatus,
  inkFor,
  printable,
  printableLines,
  type Surroundings,
  startProgress,
} from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `send`.
 *
 * @returns 0; 1 where there is something to look at; 2 where a file could not be handed in
 * @throws OptionError
 */
export async function sendFiles(
  paths: readonly string[],
  options: SendOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  if (paths.length > 1 && options.repeat !== undefined) {
    throw new OptionError(
      '--repeat is for one file: several of them cannot be the same repeat; leave it out, and name the files by their repeats',
    );
  }
  const ask = asking(await sendTo(options, surroundings.environment));
  const ink = inkFor(surroundings.stdout, surroundings.environment);
  let status: ExitStatus = 0;
  for (const path of paths) {
    try {
      const sent = await sendOne(ask, path, options, surroundings);
      surroundings.stdout.write(
        options.json === true
          ? `${JSON.stringify(sentAsJson(path, sent))}\n`
          : `${sentLines(path, sent, ink).join('\n')}\n`,
      );
      if (status === 0 && (sent.trouble !== null || sent.remarks.length > 0)) status = 1;
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      surroundings.stderr.write(`emberline: ${printable(path)}: ${printableLines(message)}\n`);
      if (options.json === true)
        surroundings.stdout.write(`${JSON.stringify({ file: path, error: message })}\n`);
      status = 2;
      // Whoever is not let in, or talks to somebody else, is so for the next file too.
      if (error instanceof OtherServerError || (error instanceof RefusedError && error.status === 401))
        return 2;
    }
  }
  return status;
}

async function sendOne(
  ask: Asking,
  path: string,
  options: SendOptions,
  surroundings: Surroundings,
): Promise<Sent> {
  const found = await stat(path);
  if (!found.isFile()) throw new Error('it is no file');
  const about = { path, bytes: found.size, sha256: await fileHash(path) };
  const bar = await startProgress(surroundings, Math.max(1, about.bytes), basename(path));
  let told = false;
  const news: SendNews = {
    sent: (bytes) => bar.update(bytes),
    lost: (why) => {
      if (told) return;
      told = true;
      surroundings.stderr.write(
        `emberline: ${printable(path)}: it does not get through (${printable(why)}); it goes on as soon as it does\n`,
      );
    },
  };
  try {
    const address = `/api/handed-in?bytes=${about.bytes}&sha256=${about.sha256}`;
    const asked = async () => answered(await ask({ method: 'GET', path: address }), knownAnswer);
    const there = (await insist(asked, news)).path;
    if (there !== null) return { ...about, path: there, again: true, trouble: null, remarks: [] };
    const id = await transfer(ask, about, news);
    return { ...about, ...(await place(ask, id, options, news)) };
  } finally {
    bar.stop();
  }
}

/** Gives a file that waits on the server its place. */
async function place(
  ask: Asking,
  id: string,
  { group, body, flow, repeat, unread }: SendOptions,
  news: SendNews,
): Promise<Omit<Sent, 'bytes' | 'sha256'>> {
  const post = <T>(address: string, content: unknown, schema: z.ZodType<T>) =>
    insist(
      async () =>
        answered(
          await ask({
            method: 'POST',
            path: address,
            headers: { 'content-type': 'application/json' },
            body: JSON.stringify(content),
          }),
          schema,
        ),
      news,
    );
  const read = await post(`/api/uploads/${id}/read`, { options: {} }, readAnswer);
  if (read.trouble !== null && unread !== true) {
    const line = read.trouble.line === null ? '' : `line ${read.trouble.line}: `;
    throw new Error(
      `${line}${read.trouble.message} ${read.trouble.mend} It was not handed in; to do so as it is, and have the instructor say how it is to be read, add --unread.`,
    );
  }
  const named = {
    group: group ?? read.place?.group ?? undefined,
    body: body ?? read.place?.body ?? undefined,
    flow: flow ?? read.place?.flow ?? undefined,
    repeat: repeat ?? read.place?.repeat ?? undefined,
  };
  const missing = (['body', 'flow'] as const).filter((one) => named[one] === undefined);
  if (missing.length > 0) {
    throw new Error(
      `the name does not say the ${missing.join(' and the ')}; run it again with ${missing.map((one) => `--${one}`).join(' and ')}: it waits on the server for a day, and is not sent again`,
    );
  }
  const kept = await post(`/api/uploads/${id}/keep`, { place: named }, keptAnswer);
  const remarks = read.understood?.remarks.filter(({ severity }) => severity !== 'note') ?? [];
  return { ...kept, trouble: read.trouble, remarks };
}

/** Whom to send to, and with what. */
async function sendTo(options: SendOptions, environment: NodeJS.ProcessEnv): Promise<SendTo> {
  const { to, group, assistant, codeFile, fingerprint, ca } = options;
  if (assistant === true && group !== undefined) {
    throw new OptionError('--assistant and --group are two ways to sign in: give one of them');
  }
  const user = assistant === true ? 'assistant' : group;
  const code = await codeOf(codeFile, environment);
  if (code !== null && user === undefined) {
    throw new OptionError(
      'there is a code, but nobody whose it is: add --group with the code of the group, or --assistant',
    );
  }
  if (code !== null && to.protocol === 'http:' && !isOwnMachine(to.hostname)) {
    throw new OptionError(
      '--to: the code would go over the network for everybody to read; use the address with https',
    );
  }
  if (fingerprint !== undefined && to.protocol === 'http:') {
    throw new OptionError('--fingerprint is for addresses with https');
  }
  return {
    address: to,
    credentials: code === null || user === undefined ? null : { user, code },
    fingerprint: fingerprint ?? null,
    ca: ca === undefined ? null : await readFile(ca, 'utf8'),
  };
}

async function codeOf(file: string | undefined, environment: NodeJS.ProcessEnv): Promise<string | null> {
  const text = file === undefined ? environment['EMBERLINE_CODE'] : await readFile(file, 'utf8');
  const code = text?.split('\n')[0]?.trim() ?? '';
  if (code !== '') return code;
  if (file === undefined) return null;
  throw new OptionError(`--code-file: the first line of ${file} is empty; write the join code there`);
}

function isOwnMachine(host: string): boolean {
  return host === 'localhost' || host === '[::1]' || /^127\.\d+\.\d+\.\d+$/.test(host);
}
