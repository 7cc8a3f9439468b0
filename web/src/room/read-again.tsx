/** What the group knows better than a file that was not understood. */
import { type FormEvent, useId, useState } from 'react';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { type CorrectionFields, choices, fieldsOf, optionsOf } from '../add/words.ts';
import { asking } from './asking.ts';
import { Hindrance } from './hindrance.tsx';
import { useDeed } from './use-asked.ts';

type Name = keyof CorrectionFields;

/** Those that a group can tell from the file and the logger; what is rarer is for those who run the session. */
const chosen: readonly (readonly [Name, string, readonly (readonly [string, string])[]])[] = [
  ['unit', 'unit', choices.unit],
  ['delimiter', 'columns parted by', choices.delimiter],
  ['decimal', 'decimal mark', choices.decimal],
  ['timeUnit', 'unit of the time', choices.timeUnit],
];
const typed: readonly (readonly [Name, string])[] = [
  ['channel', 'channel: name or column'],
  ['timeColumn', 'column of the time'],
  ['rate', 'rate in Hz'],
];

export function ReadAgain({
  upload,
  read,
}: {
  readonly upload: UploadView;
  readonly read: (upload: UploadView) => void;
}) {
  const [fields, setFields] = useState<CorrectionFields>(fieldsOf(upload.options));
  const id = useId();
  const said = optionsOf(fields);
  const deed = useDeed((options: typeof upload.options) => asking.read(upload.id, options), read);
  const set = (name: Name, value: string) => setFields({ ...fields, [name]: value });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (said.ok) deed.go(said.options);
  };
  return (
    <form className="flow" onSubmit={submit} aria-label="How the file is read">
      <p className="quiet small">What is left as found is read from the file.</p>
      <div className="room-fields">
        {chosen.map(([name, label, options]) => (
          <p className="room-field" key={name}>
            <label htmlFor={`${id}-${name}`}>{label}</label>
            <select
              id={`${id}-${name}`}
              value={fields[name]}
              onChange={(event) => set(name, event.target.value)}
            >
              <option value="">as found</option>
              {options.map(([value, words]) => (
                <option key={value} value={value}>
                  {words}
                </option>
              ))}
            </select>
          </p>
        ))}
        {typed.map(([name, label]) => (
          <p className="room-field" key={name}>
            <label htmlFor={`${id}-${name}`}>{label}</label>
            <input
              id={`${id}-${name}`}
              value={fields[name]}
              maxLength={200}
              placeholder="as found"
              autoCapitalize="none"
              autoComplete="off"
              aria-invalid={(!said.ok && said.field === name) || undefined}
              onChange={(event) => set(name, event.target.value)}
            />
          </p>
        ))}
      </div>
      {!said.ok && <p role="alert">{said.message}</p>}
      {deed.error !== null && <Hindrance error={deed.error} />}
      <button type="submit" className="deed" disabled={!said.ok || deed.does}>
        {deed.does ? 'reading …' : 'read it again'}
      </button>
    </form>
  );
}
