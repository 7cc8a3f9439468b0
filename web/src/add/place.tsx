/** Recordings come in: chosen or dropped, shown as they are understood, corrected, and only then taken. */
import './place.css';
import { type DragEvent, useMemo, useRef, useState } from 'react';
import { Link } from 'wouter';
import { useExperiment } from '../api/queries.ts';
import { readCourse } from '../experiment/course.ts';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { AddedFile } from './file.tsx';
import { useFiles } from './use-files.ts';

export default function AddPlace() {
  useTitle('add recordings');
  const view = useExperiment();
  const experiment = useMemo(
    () => (view.data === undefined ? null : readCourse(view.data.text).experiment),
    [view.data],
  );
  const { files, add, put, leaveOut } = useFiles();
  const [over, setOver] = useState(false);
  const chooser = useRef<HTMLInputElement>(null);

  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    add([...event.dataTransfer.files]);
  };

  return (
    <div className="add">
      <h1>Add recordings</h1>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button does the same by keyboard */}
      <div
        className={over ? 'add-drop add-over flow' : 'add-drop flow'}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={drop}
      >
        <p>
          Text files of any logger, plain or packed with gzip. Each is shown as it was understood, with its
          first rows; nothing is taken before you take it, and nothing leaves this computer.
        </p>
        <p className="words">
          <button type="button" className="deed" onClick={() => chooser.current?.click()}>
            choose files
          </button>
          <span className="quiet">or drop them here</span>
        </p>
        <input
          ref={chooser}
          type="file"
          multiple
          hidden
          aria-label="Files of recordings"
          onChange={(event) => {
            add([...(event.target.files ?? [])]);
            event.target.value = '';
          }}
        />
      </div>
      {view.error !== null && view.data === undefined && (
        <Trouble error={view.error} again={() => void view.refetch()} />
      )}
      {view.data !== undefined && experiment === null && (
        <div className="trouble" role="alert">
          <p className="strong">The experiment file has faults</p>
          <p>Without it nobody knows what a recording is of: files can be looked at, but not taken.</p>
          <p>
            <Link href="/">See its faults</Link>, mend them, and come back; the files wait for a day.
          </p>
        </div>
      )}
      {files.map((file) => (
        <AddedFile
          key={file.key}
          file={file}
          experiment={experiment}
          put={(state) => put(file.key, state)}
          leaveOut={() => leaveOut(file.key)}
        />
      ))}
    </div>
  );
}
