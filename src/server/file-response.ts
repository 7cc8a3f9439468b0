import { z } from '@hono/zod-openapi';
import type { Context } from 'hono';
import type { MadeFile } from '../export/index.ts';
import { remarksHeader } from './contract/index.ts';
import { problems } from './routing.ts';

const binary = { schema: z.string().meta({ format: 'binary' }) };

/** A file as an answer. */
export function fileAnswers(description: string, types: readonly string[]) {
  return {
    200: {
      description,
      headers: z.object({
        'content-disposition': z.string().describe('attachment, with the name of the file (RFC 6266).'),
        [remarksHeader]: z
          .string()
          .optional()
          .describe('What to know about it: a JSON array of sentences, percent-encoded.'),
      }),
      content: Object.fromEntries(types.map((type) => [type, binary])),
    },
    ...problems,
  } as const;
}

/** A file that was made, to be saved under its name. */
export function fileResponse(c: Context, { name, type, bytes, remarks }: MadeFile): Response {
  return c.body(new Uint8Array(bytes), 200, {
    'content-type': type,
    'content-length': String(bytes.byteLength),
    'content-disposition': contentDisposition(name),
    ...(remarks.length === 0 ? {} : { [remarksHeader]: remarksOf(remarks) }),
  });
}

/**
 * A file to be saved under a name (RFC 6266): for old clients in ASCII without quotation marks, for the others in full
 * (RFC 8187).
 */
export function contentDisposition(name: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9._-]/g, '_');
  return `attachment; filename="${plain}"; filename*=UTF-8''${extended(name)}`;
}

/** What RFC 8187 lets stand (attr-char), everything else as UTF-8 in percent signs. */
function extended(text: string): string {
  return encodeURIComponent(text).replace(/['()*]/g, (letter) => {
    return `%${letter.charCodeAt(0).toString(16).toUpperCase()}`;
  });
}

/** A header must stay small: what does not fit is only counted. */
const mostInHeader = 3000;

function remarksOf(remarks: readonly string[]): string {
  const said: string[] = [];
  const written = (list: readonly string[]) => encodeURIComponent(JSON.stringify(list));
  for (const remark of remarks) {
    if (written([...said, remark]).length > mostInHeader) {
      said.push(`And ${remarks.length - said.length} more; the command emberline report says all of them.`);
      break;
    }
    said.push(remark);
  }
  return written(said);
}
