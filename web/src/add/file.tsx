import { useState } from 'react';
import { Link } from 'wouter';
import type { Experiment } from '../../../src/experiment/index.ts';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { useReadAgain } from '../api/queries.ts';
import { Note } from '../frame/note.tsx';
import { useProjector } from '../frame/projector.ts';
import { Sentence } from '../frame/sentence.tsx';
import { Trouble } from '../frame/trouble.tsx';
import { Belong } from './belong.tsx';
import { Correct } from './correct.tsx';
import { Understood } from './understood.tsx';
import type { HandedFile } from './use-files.ts';
import { sizeWords } from './words.ts';

/** A file that was chosen: on its way, read, in the way, or taken. */
export function AddedFile({
  file,
  experiment,
  put,
  leaveOut,
}: {
  readonly file: HandedFile;
  readonly experiment: Experiment | null;
  readonly put: (state: HandedFile['state']) => void;
  readonly leaveOut: () => void;
}) {
  const { projector } = useProjector();
  const name = projector ? 'a file' : file.name;
  const { state } = file;
  if (state.kind === 'read') {
    return (
      <ReadFile name={name} upload={state.upload} experiment={experiment} put={put} leaveOut={leaveOut} />
    );
  }
  return (
    <section className="add-file flow">
      <h2>{name}</h2>
      {state.kind === 'sending' && (
        <div className="waiting-progress" role="status">
          <span className="quiet">
            {state.part < 1 ? `handing over, ${sizeWords(file.bytes)}` : 'reading …'}
          </span>
          <progress value={state.part} max={1} aria-label={`${name}, part that is handed over`} />
        </div>
      )}
      {state.kind === 'failed' && (
        <>
          <Trouble error={state.error} />
          <button type="button" className="word" onClick={leaveOut}>
            leave it out
          </button>
        </>
      )}
      {state.kind === 'kept' && (
        <p role="status">
          Taken as{' '}
          <Link href={`/recordings/${inAddress(state.path)}`}>{projector ? 'a recording' : state.path}</Link>.
          It is analyzed now.
        </p>
      )}
    </section>
  );
}

function ReadFile({
  name,
  upload,
  experiment,
  put,
  leaveOut,
}: {
  readonly name: string;
  readonly upload: UploadView;
  readonly experiment: Experiment | null;
  readonly put: (state: HandedFile['state']) => void;
  readonly leaveOut: () => void;
}) {
  const { projector } = useProjector();
  const { understood, trouble, sameAs, bytes } = upload;
  const [correcting, setCorrecting] = useState(understood === null);
  const again = useReadAgain(upload.id);
  const remarks = understood?.remarks ?? [];
  return (
    <section className="add-file spread">
      <div className="wide flow">
        <h2>
          {name} <span className="quiet small">{sizeWords(bytes)}</span>
        </h2>
        <Understood reading={upload} />
        <p>
          <button
            type="button"
            className="word"
            aria-expanded={correcting}
            onClick={() => setCorrecting(!correcting)}
          >
            {correcting ? 'close the corrections' : 'correct how it is read'}
          </button>
        </p>
        {correcting && (
          <Correct
            reading={upload}
            again={(options) =>
              again.mutate(options, { onSuccess: (upload) => put({ kind: 'read', upload }) })
            }
            pending={again.isPending}
            error={again.error}
          />
        )}
        {experiment !== null && (
          <Belong
            upload={upload}
            experiment={experiment}
            kept={(path) => put({ kind: 'kept', path })}
            leaveOut={leaveOut}
          />
        )}
      </div>
      <div className="margin">
        {sameAs !== null && (
          <Note
            place="the whole file"
            weight="caution"
            action="Leave it out, and add the recording of the repeat; if there is none, record it."
          >
            It is the same, byte for byte, as{' '}
            {projector ? (
              'a recording that is there already'
            ) : (
              <Link href={`/recordings/${inAddress(sameAs)}`}>{sameAs}</Link>
            )}
            . A copy says nothing of how trials repeat.
          </Note>
        )}
        {Object.keys(upload.options).length > 0 && (
          <Note
            place="the corrections"
            action="Other programs know nothing of them: where they must, write unit, rate and names into the file's own header, or set the logger so."
          >
            They are kept beside the recording as a decision, with who and when, and can be taken back there.
            The file itself stays as it is.
          </Note>
        )}
        {remarks.map(({ code, severity, message, action, at }) => (
          <Note
            key={`${code} ${message}`}
            place={at === undefined ? undefined : `${at.from.toFixed(1)} s to ${at.to.toFixed(1)} s`}
            weight={severity}
            action={action}
            code={code}
          >
            <Sentence>{message}</Sentence>
          </Note>
        ))}
        {(sameAs !== null || trouble !== null || remarks.some(({ severity }) => severity === 'repeat')) && (
          <Note place="before a trial is recorded again" weight="caution">
            Hot air and the body stay hot: let it cool in the jet before touching it, and point neither hot
            air nor the jet at anyone. Wear eye protection and open the valve slowly.
          </Note>
        )}
      </div>
    </section>
  );
}
