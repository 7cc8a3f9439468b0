import { type FormEvent, useState } from 'react';
import type { Experiment } from '../../../src/experiment/index.ts';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { useKeep, useRecordings } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { Trouble } from '../frame/trouble.tsx';
import { rememberedWho, rememberWho } from '../recording/who.ts';
import {
  codesOf,
  destination,
  namesAsked,
  nextRepeat,
  type PlaceName,
  placeFields,
  withPlace,
} from './belongs.ts';
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
  const [chosen, setChosen] = useState(() => placeFields(upload.place));
  // Until the name of the file or a person says which repeat it is, it is the next one.
  const [repeatSaid, setRepeatSaid] = useState(chosen.repeat !== '');
  const { data: list } = useRecordings();
  const next = nextRepeat(chosen, list?.recordings.map(({ place }) => place) ?? []);
  const fields = repeatSaid ? chosen : { ...chosen, repeat: String(next) };
  const keep = useKeep(upload.id);
  const where = destination(experiment, fields, upload.name);
  const corrected = Object.keys(upload.options).length > 0;
  const [who, setWho] = useState(rememberedWho);
  const [why, setWhy] = useState('');
  const blocked = upload.understood === null || upload.sameAs !== null || (corrected && who.trim() === '');

  const set = (name: PlaceName) => (value: string) => setChosen(withPlace(experiment, chosen, name, value));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!where.ok || blocked) return;
    if (corrected) rememberWho(who.trim());
    const reading = { read: upload.options, who: who.trim(), why: why.trim() };
    keep.mutate(
      { ...where.request, ...(corrected ? { reading } : {}) },
      { onSuccess: ({ path }) => kept(path) },
    );
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
              change={(value) => {
                setRepeatSaid(true);
                set(name)(value);
              }}
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
              change={set(name)}
            />
          ),
        )}
      </fieldset>
      {corrected && (
        <fieldset className="add-fields">
          <legend className="strong">How it is read is kept with it</legend>
          <Written label="who says so" value={who} most={60} change={setWho} />
          <Written label="why, if there is a reason to note" value={why} most={500} change={setWhy} />
        </fieldset>
      )}
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
