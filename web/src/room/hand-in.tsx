/** Handing a recording in: chosen or dropped, sent on where the line broke, and given its place. */
import { type DragEvent, useId, useState } from 'react';
import type { MineView, UploadView } from '../../../src/server/contract/index.ts';
import { sizeWords } from '../add/words.ts';
import { Hindrance } from './hindrance.tsx';
import { Place } from './place.tsx';
import { type SentFile, useSentFiles } from './use-sent-files.ts';

export function HandIn({ mine, handedIn }: { readonly mine: MineView; readonly handedIn: () => void }) {
  const { files, add, put, leaveOut } = useSentFiles();
  const [over, setOver] = useState(false);
  const id = useId();
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    add([...event.dataTransfer.files]);
  };
  return (
    <section className="room-part flow" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>Hand in a recording</h2>
      <section
        className={over ? 'room-drop room-over' : 'room-drop'}
        aria-label="Files can be dropped here"
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={drop}
      >
        <p className="room-field">
          <label htmlFor={id}>Files of the logger, as it wrote them</label>
          <input
            id={id}
            type="file"
            multiple
            onChange={(event) => {
              add([...(event.target.files ?? [])]);
              event.target.value = '';
            }}
          />
        </p>
        <p className="quiet small">
          They can be dropped here as well. A line that breaks costs nothing: sending goes on.
        </p>
      </section>
      {files.map((file) => (
        <File
          key={file.key}
          file={file}
          mine={mine}
          read={(upload) => put(file.key, { kind: 'read', upload })}
          kept={(path) => {
            put(file.key, { kind: 'kept', name: path.split('/').at(-1) ?? path });
            handedIn();
          }}
          leaveOut={() => leaveOut(file.key)}
        />
      ))}
    </section>
  );
}

function File({
  file: { name, bytes, state },
  mine,
  read,
  kept,
  leaveOut,
}: {
  readonly file: SentFile;
  readonly mine: MineView;
  readonly read: (upload: UploadView) => void;
  readonly kept: (path: string) => void;
  readonly leaveOut: () => void;
}) {
  return (
    <section className="flow room-file" aria-label={name}>
      <h3>
        {name} <span className="quiet small">{sizeWords(bytes)}</span>
      </h3>
      {state.kind === 'sending' && (
        <div className="waiting-progress" role="status">
          <span className={state.waits ? 'strong' : 'quiet'}>
            {state.waits
              ? 'the line is down; it goes on by itself'
              : state.part < 1
                ? `${Math.floor(100 * state.part)} % handed over`
                : 'reading …'}
          </span>
          <progress value={state.part} max={1} aria-label={`${name}, part that is handed over`} />
          <button type="button" className="word" onClick={leaveOut}>
            give it up
          </button>
        </div>
      )}
      {state.kind === 'failed' && (
        <>
          <Hindrance error={state.error} />
          <button type="button" className="word" onClick={leaveOut}>
            leave it out
          </button>
        </>
      )}
      {state.kind === 'read' && (
        <Place upload={state.upload} mine={mine} read={read} kept={kept} leaveOut={leaveOut} />
      )}
      {state.kind === 'kept' && (
        <p role="status">
          It is handed in as {state.name}. Whether it is usable is to be seen above in a moment.
        </p>
      )}
    </section>
  );
}
