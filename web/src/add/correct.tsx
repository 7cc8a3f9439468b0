import { type FormEvent, useState } from 'react';
import type { UploadView } from '../../../src/server/contract/index.ts';
import { useReadAgain } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Choice, Written } from './field.tsx';
import { type CorrectionFields, choices, fieldsOf, optionsOf, unitSymbol } from './words.ts';

/** What a person knows better than the file, and reading it again. */
export function Correct({
  upload,
  read,
}: {
  readonly upload: UploadView;
  /** Told how the file was then understood. */
  readonly read: (upload: UploadView) => void;
}) {
  const [fields, setFields] = useState<CorrectionFields>(fieldsOf(upload.options));
  const again = useReadAgain(upload.id);
  const options = optionsOf(fields);
  const set = (name: keyof CorrectionFields) => (value: string) => setFields({ ...fields, [name]: value });
  const channels = upload.understood?.channels ?? [];

  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (options !== null) again.mutate(options, { onSuccess: read });
  };

  return (
    <form className="flow" onSubmit={submit}>
      <fieldset className="add-fields">
        <legend className="quiet small">What is left as found is read from the file.</legend>
        {channels.length > 0 ? (
          <Choice
            label="channel"
            value={fields.channel}
            empty="as found"
            options={channels.map(({ column, name, unit }) => [
              String(column),
              `${name}${unit === null ? '' : `, ${unitSymbol(unit)}`} (column ${column})`,
            ])}
            change={set('channel')}
          />
        ) : (
          <Written label="channel" value={fields.channel} hint="name or column" change={set('channel')} />
        )}
        <Choice
          label="unit"
          value={fields.unit}
          empty="as found"
          options={choices.unit}
          change={set('unit')}
        />
        <Written
          label="rate in Hz"
          value={fields.rate}
          hint="as found"
          wrong={options === null}
          change={set('rate')}
        />
        <Choice
          label="columns parted by"
          value={fields.delimiter}
          empty="as found"
          options={choices.delimiter}
          change={set('delimiter')}
        />
        <Choice
          label="decimal mark"
          value={fields.decimal}
          empty="as found"
          options={choices.decimal}
          change={set('decimal')}
        />
        <Choice
          label="thousands mark"
          value={fields.thousands}
          empty="as found"
          options={choices.thousands}
          change={set('thousands')}
        />
        <Written
          label="column of the time"
          value={fields.timeColumn}
          hint="name or number"
          change={set('timeColumn')}
        />
        <Choice
          label="unit of the time"
          value={fields.timeUnit}
          empty="as found"
          options={choices.timeUnit}
          change={set('timeUnit')}
        />
        <Choice
          label="encoding"
          value={fields.encoding}
          empty="as found"
          options={choices.encoding}
          change={set('encoding')}
        />
      </fieldset>
      {options === null && <p role="alert">The rate is a number above 0, in Hz, such as 100.</p>}
      {again.error !== null && <Trouble error={again.error} />}
      <button type="submit" className="deed" disabled={options === null || again.isPending}>
        {again.isPending ? 'reading …' : 'read again'}
      </button>
    </form>
  );
}
