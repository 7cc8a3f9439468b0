import { useCallback, useEffect, useRef, useState } from 'react';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { asking } from './asking.ts';
import { type Sending, sendOn } from './send-on.ts';

/** A file on its way to the folder. */
export interface SentFile {
  readonly key: string;
  readonly name: string;
  readonly bytes: number;
  readonly state:
    | { readonly kind: 'sending'; readonly part: number; readonly waits: boolean }
    | { readonly kind: 'failed'; readonly error: unknown }
    | { readonly kind: 'read'; readonly upload: UploadView }
    | { readonly kind: 'kept'; readonly name: string };
}

/** The files that were chosen on this device, one sent after the other. */
export function useSentFiles() {
  const [files, setFiles] = useState<readonly SentFile[]>([]);
  const queue = useRef<Promise<void>>(Promise.resolve());
  const underWay = useRef(new Map<string, Sending | null>());

  const put = useCallback((key: string, state: SentFile['state']) => {
    setFiles((all) => all.map((one) => (one.key === key ? { ...one, state } : one)));
  }, []);

  const add = useCallback(
    (chosen: readonly File[]) => {
      for (const file of chosen) {
        const key = crypto.randomUUID();
        underWay.current.set(key, null);
        setFiles((all) => [
          ...all,
          { key, name: file.name, bytes: file.size, state: { kind: 'sending', part: 0, waits: false } },
        ]);
        queue.current = queue.current.then(async () => {
          // Given up before its turn came.
          if (!underWay.current.has(key)) return;
          const sending = sendOn(file, (part, waits) => put(key, { kind: 'sending', part, waits }));
          underWay.current.set(key, sending);
          await sending.id
            .then((id) => asking.read(id, {}))
            .then(
              (upload) => put(key, { kind: 'read', upload }),
              (error: unknown) => put(key, { kind: 'failed', error }),
            );
          underWay.current.delete(key);
        });
      }
    },
    [put],
  );

  const leaveOut = useCallback((key: string) => {
    underWay.current.get(key)?.giveUp();
    underWay.current.delete(key);
    setFiles((all) => all.filter((one) => one.key !== key));
  }, []);

  useEffect(() => {
    const sent = underWay.current;
    return () => {
      for (const sending of sent.values()) sending?.pause();
    };
  }, []);
  return { files, add, put, leaveOut };
}
