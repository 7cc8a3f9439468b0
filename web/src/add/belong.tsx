import { type FormEvent, useState } from 'react';
import type { Experiment } from '../../../src/experiment/index.ts';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { useKeep } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { Trouble } from '../frame/trouble.tsx';
import { codesOf, destination, namesAsked, placeFields, withPlace } from './belongs.ts';
import { Choice, Written } from './field.tsx';

/** What the recording is of, where it then goes, and taking it. */
export function Belong({
  upload,
  experiment,
  kept,
  leaveOut,
}: {
  readonly upload: UploadView;
  readonly experiment: Experiment;
  /** Told where it is now. */
  readonly kept: (path: string) => void;
  readonly leaveOut: () => void;
}) {
  const { projector } = useProjector();
  const [fields, setFields] = useState(() => placeFields(upload.place));
  const keep = useKeep(upload.id);
  const where = destination(experiment, fields, upload.name);
  const blocked = upload.understood === null || upload.sameAs !== null;

  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (where.ok) keep.mutate(where.request, { onSuccess: ({ path }) => kept(path) });
  };

  return (
    <form className="flow" onSubmit={submit}>
      <fieldset className="add-fields">
        <legend className="strong">What it is of</legend>
        {namesAsked(experiment).map((name) =>
          name === 'repeat' ? (
            <Written
              key={name}
              label="repeat"
              value={fields.repeat}
              change={(value) => setFields(withPlace(experiment, fields, name, value))}
            />
          ) : (
            <Choice
              key={name}
              label={name}
              value={fields[name]}
              empty="choose"
              options={codesOf(experiment, name).map((code, i) => [
                code,
                projector && (name === 'group' || name === 'bench') ? `${name} ${i + 1}` : code,
              ])}
              change={(value) => setFields(withPlace(experiment, fields, name, value))}
            />
          ),
        )}
      </fieldset>
      <p className="small">
        {where.ok ? (
          projector ? (
            'Its place in the folder is known.'
          ) : (
            <>
              It goes to <span className="strong add-path">{where.path}</span>, its bytes as they are.
            </>
          )
        ) : (
          where.message
        )}
      </p>
      {keep.error !== null && <Trouble error={keep.error} />}
      <p className="words">
        <button type="submit" className="deed" disabled={blocked || !where.ok || keep.isPending}>
          {keep.isPending ? 'taking …' : 'take it'}
        </button>
        <button type="button" className="word" onClick={leaveOut}>
          leave it out
        </button>
      </p>
    </form>
  );
}
