import { stat } from 'node:fs/promises';

/** Size and time of a file in one text, which is another one when the file was written; `gone` where there is none. */
export async function fileStamp(path: string): Promise<string> {
  return stat(path).then(
    ({ size, mtimeMs }) => `${size} ${mtimeMs}`,
    () => 'gone',
  );
}
