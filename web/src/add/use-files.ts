import { useCallback, useEffect, useRef, useState } from 'react';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { calls } from '../api/calls.ts';
import { sendFile } from './send.ts';
import { keepWaiting, waitingFiles } from './waiting-files.ts';

/** A file on its way to the folder. */
export interface HandedFile {
  readonly key: string;
  readonly name: string;
  readonly bytes: number;
  readonly state:
    | { readonly kind: 'sending'; readonly part: number }
    | { readonly kind: 'failed'; readonly error: unknown }
    | { readonly kind: 'read'; readonly upload: UploadView }
    | { readonly kind: 'kept'; readonly path: string };
}

/** The files that were chosen in this window, one sent after the other. */
export function useFiles() {
  const [files, setFiles] = useState<readonly HandedFile[]>([]);
  const queue = useRef<Promise<void>>(Promise.resolve());
  const restored = useRef(false);

  const put = useCallback((key: string, state: HandedFile['state']) => {
    setFiles((all) => all.map((one) => (one.key === key ? { ...one, state } : one)));
  }, []);

  const add = useCallback(
    (chosen: readonly File[]) => {
      for (const file of chosen) {
        const key = crypto.randomUUID();
        const state = { kind: 'sending', part: 0 } as const;
        setFiles((all) => [...all, { key, name: file.name, bytes: file.size, state }]);
        queue.current = queue.current.then(() =>
          sendFile(file, (part) => put(key, { kind: 'sending', part })).then(
            (upload) => put(key, { kind: 'read', upload }),
            (error: unknown) => put(key, { kind: 'failed', error }),
          ),
        );
      }
    },
    [put],
  );

  const leaveOut = useCallback((key: string) => {
    setFiles((all) => all.filter((one) => one.key !== key));
  }, []);

  // Files of before a reload still wait on the server; those that do not are forgotten.
  useEffect(() => {
    if (restored.current) return;
    restored.current = true;
    for (const { id, options } of waitingFiles()) {
      calls.readAgain(id, options).then(
        (upload) => {
          const { name, bytes } = upload;
          setFiles((all) => [...all, { key: id, name, bytes, state: { kind: 'read', upload } }]);
        },
        () => undefined,
      );
    }
  }, []);

  const seen = useRef(false);
  useEffect(() => {
    if (files.length > 0) seen.current = true;
    if (!seen.current) return;
    keepWaiting(
      files.flatMap(({ state }) =>
        state.kind === 'read' ? [{ id: state.upload.id, options: state.upload.options }] : [],
      ),
    );
  }, [files]);

  return { files, add, put, leaveOut };
}
