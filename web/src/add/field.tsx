import './reading.css';
import { useId } from 'react';

/** A choice with its name above it. */
export function Choice({
  label,
  value,
  empty,
  options,
  change,
}: {
  readonly label: string;
  readonly value: string;
  /** What no choice means. */
  readonly empty: string;
  readonly options: readonly (readonly [value: string, words: string])[];
  readonly change: (value: string) => void;
}) {
  const id = useId();
  return (
    <div className="add-field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => change(event.target.value)}>
        <option value="">{empty}</option>
        {options.map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

/** A short text or number with its name above it. */
export function Written({
  label,
  value,
  hint,
  wrong = false,
  most = 200,
  change,
}: {
  readonly label: string;
  readonly value: string;
  readonly hint?: string;
  readonly wrong?: boolean;
  /** Letters. */
  readonly most?: number;
  readonly change: (value: string) => void;
}) {
  const id = useId();
  return (
    <div className="add-field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        value={value}
        inputMode="text"
        maxLength={most}
        placeholder={hint}
        aria-invalid={wrong || undefined}
        onChange={(event) => change(event.target.value)}
      />
    </div>
  );
}
