import { type FormEvent, useState } from 'react';
import type { FileReading, ReadOptionsView } from '../../../src/server/contract/index.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Choice, Written } from './field.tsx';
import { type CorrectionFields, choices, fieldsOf, optionsOf, unitSymbol } from './words.ts';

/** What a person knows better than the file, and reading it again. */
export function Correct({
  reading,
  again,
  pending,
  error,
}: {
  /** How the file was read last. */
  readonly reading: FileReading;
  /** Reads it by what stands in the fields. */
  readonly again: (options: ReadOptionsView) => void;
  readonly pending: boolean;
  /** Why it could not be read again; null where nothing is in the way. */
  readonly error: unknown;
}) {
  const [fields, setFields] = useState<CorrectionFields>(fieldsOf(reading.options));
  const said = optionsOf(fields);
  const set = (name: keyof CorrectionFields) => (value: string) => setFields({ ...fields, [name]: value });
  const channels = reading.understood?.channels ?? [];

  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (said.ok) again(said.options);
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
          wrong={!said.ok && said.field === 'rate'}
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
        <Written
          label="part of the file"
          value={fields.segment}
          hint="the longest"
          wrong={!said.ok && said.field === 'segment'}
          change={set('segment')}
        />
      </fieldset>
      {!said.ok && <p role="alert">{said.message}</p>}
      {error !== null && <Trouble error={error} />}
      <button type="submit" className="deed" disabled={!said.ok || pending}>
        {pending ? 'reading …' : 'read again'}
      </button>
    </form>
  );
}
