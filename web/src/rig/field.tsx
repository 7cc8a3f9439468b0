/** Fields of the forms about a rig. */
import { type ReactNode, useId } from 'react';

export function Field({
  id,
  label,
  wide = false,
  children,
}: {
  readonly id: string;
  readonly label: string;
  readonly wide?: boolean;
  readonly children: ReactNode;
}) {
  return (
    <div className={wide ? 'rig-field rig-field-wide' : 'rig-field'}>
      <label htmlFor={id}>{label}</label>
      {children}
    </div>
  );
}

/** Who did it, as the browser knows people. */
export function WhoField({
  label,
  who,
  setWho,
}: {
  readonly label: string;
  readonly who: string;
  readonly setWho: (who: string) => void;
}) {
  const id = useId();
  return (
    <Field id={id} label={label}>
      <input
        id={id}
        value={who}
        maxLength={60}
        required
        autoComplete="name"
        onChange={(event) => setWho(event.target.value)}
      />
    </Field>
  );
}
