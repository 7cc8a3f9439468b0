import { useId } from 'react';
import type { FileFault } from '../../../src/experiment/index.ts';
import type { Edits } from './edits.ts';
import { type Field, type FieldGroup, isFaultOf } from './fields.ts';

/** The values of the file that a plan hangs on, as they are written there. */
export function ChangeForm({
  groups,
  edits,
  faults,
  type,
}: {
  readonly groups: readonly FieldGroup[];
  readonly edits: Edits;
  readonly faults: readonly FileFault[];
  readonly type: (key: string, value: string) => void;
}) {
  return (
    <section className="part plan-form" aria-labelledby="change">
      <h2 id="change">Change a value and see what it does</h2>
      <p className="quiet small">
        Written as in experiment.yaml, with unit, and with the standard uncertainty behind +- where it is
        known. Nothing is written to the file until you keep it.
      </p>
      <div className="plan-groups">
        {groups.map(({ heading, fields }) => (
          <fieldset key={heading} className="plan-group">
            <legend>{heading}</legend>
            {fields.map((field) => (
              <FieldLine
                key={field.key}
                field={field}
                typed={edits[field.key]}
                faults={faults.filter((fault) => isFaultOf(fault, field.place))}
                type={type}
              />
            ))}
          </fieldset>
        ))}
      </div>
    </section>
  );
}

function FieldLine({
  field,
  typed,
  faults,
  type,
}: {
  readonly field: Field;
  readonly typed: string | undefined;
  readonly faults: readonly FileFault[];
  readonly type: (key: string, value: string) => void;
}) {
  const id = useId();
  const value = typed ?? field.writing;
  const changed = typed !== undefined;
  const said = changed || faults.length > 0;
  const shared = {
    id,
    'aria-invalid': faults.length > 0 ? true : undefined,
    'aria-describedby': said ? `${id}-said` : undefined,
  };
  return (
    <div className={changed ? 'plan-field plan-field-changed' : 'plan-field'}>
      <label htmlFor={id}>{field.label}</label>
      {field.choices === null ? (
        <input
          {...shared}
          type="text"
          value={value}
          placeholder={field.writing === '' ? `such as ${field.example}` : undefined}
          autoComplete="off"
          spellCheck={false}
          maxLength={200}
          onChange={(event) => type(field.key, event.target.value)}
        />
      ) : (
        <select {...shared} value={value} onChange={(event) => type(field.key, event.target.value)}>
          <option value="">not said</option>
          {field.choices.map((choice) => (
            <option key={choice} value={choice}>
              {choice}
            </option>
          ))}
        </select>
      )}
      {said && (
        <div className="plan-said small" id={`${id}-said`}>
          {faults.map(({ message }) => (
            <p key={message} className="plan-fault">
              {message}
            </p>
          ))}
          {changed && (
            <p className="quiet">
              {field.writing === '' ? 'not said in the file' : `in the file: ${field.writing}`}{' '}
              <button type="button" className="word" onClick={() => type(field.key, field.writing)}>
                take back<span className="hidden-text"> {field.label}</span>
              </button>
            </p>
          )}
        </div>
      )}
    </div>
  );
}
