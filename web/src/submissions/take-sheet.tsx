/** Taking a sheet in: a file, and the group whose it is where its rows do not say so. */
import { type FormEvent, useId, useState } from 'react';
import { useTakeSheet } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';

export function TakeSheet({ groups }: { readonly groups: readonly string[] }) {
  const take = useTakeSheet();
  const [file, setFile] = useState<File | null>(null);
  const [group, setGroup] = useState('');
  const [taken, setTaken] = useState('');
  const id = useId();
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (file === null || take.isPending) return;
    take.mutate(
      { file, group: group === '' ? null : group },
      { onSuccess: ({ path }) => setTaken(`Kept as ${path}.`) },
    );
  };
  return (
    <form className="flow" onSubmit={send} aria-label="Take a sheet in">
      <p className="strong">Take a sheet in</p>
      <p>
        <label htmlFor={`${id}-file`}>CSV or XLSX</label>
        <input
          id={`${id}-file`}
          type="file"
          accept=".csv,.tsv,.txt,.xlsx"
          onChange={(event) => {
            setTaken('');
            take.reset();
            setFile(event.target.files?.[0] ?? null);
          }}
        />
      </p>
      <p>
        <label htmlFor={`${id}-group`}>Whose it is</label>
        <select id={`${id}-group`} value={group} onChange={(event) => setGroup(event.target.value)}>
          <option value="">its rows say so</option>
          {groups.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </p>
      <p>
        <button type="submit" className="deed" disabled={file === null || take.isPending}>
          take it in
        </button>
      </p>
      <p role="status">{taken}</p>
      {take.isError && <Trouble error={take.error} />}
      <p className="quiet small">
        It is kept as it is, below submissions/ in the folder. Of a group the latest sheet counts. Nothing is
        sent anywhere.
      </p>
    </form>
  );
}
