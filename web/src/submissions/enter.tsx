/** The values of a group as a sheet to type into: a row for each of its recordings. */
import { type FormEvent, useId, useState } from 'react';
import type { AskedQuantity, GroupSubmission, SubmissionsView } from '../../../src/server/contract/index.ts';
import { useEnterValues, useRecordings } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { anyFilled, requestOf, type TypedRows, typedBefore } from './typed.ts';
import { quantityName } from './words.ts';

interface Shown {
  readonly group: string;
  readonly asked: SubmissionsView['asked'];
  readonly data: GroupSubmission | null;
  readonly leave: () => void;
}

export function Enter(shown: Shown) {
  const { data: recordings } = useRecordings();
  if (recordings === undefined) return <Waiting what="the recordings" />;
  const own = recordings.recordings
    .filter(({ place }) => place.group === shown.group)
    .map(({ path }) => path);
  const named = shown.data?.rows.flatMap(({ recording }) => recording ?? []) ?? [];
  const paths = [...new Set([...own, ...named])];
  if (paths.length === 0) return <p>There is no recording of this group that values could be about.</p>;
  return <Sheet {...shown} paths={paths} />;
}

function Sheet({ group, asked, data, leave, paths }: Shown & { readonly paths: readonly string[] }) {
  const keep = useEnterValues(group);
  const id = useId();
  const [path, setPath] = useState(paths[0] ?? '');
  const [rows, setRows] = useState<TypedRows>(() => typedBefore(data, asked));
  const typed = rows[path] ?? {};
  const set = (quantity: AskedQuantity, text: string) => {
    keep.reset();
    setRows({ ...rows, [path]: { ...typed, [quantity]: text } });
  };
  const filled = anyFilled(rows);
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!filled || keep.isPending) return;
    keep.mutate(requestOf(rows, data, paths), { onSuccess: leave });
  };
  return (
    <form className="flow submission-enter" onSubmit={send} aria-label={`Values of group ${group}`}>
      <div className="submission-field submission-which">
        <label htmlFor={`${id}-path`}>Recording</label>
        <select id={`${id}-path`} value={path} onChange={(event) => setPath(event.target.value)}>
          {paths.map((one) => (
            <option key={one} value={one}>
              {one.split('/').at(-1)}
            </option>
          ))}
        </select>
      </div>
      <div className="submission-fields">
        {asked.map(({ quantity, unit }) => (
          <div className="submission-field" key={`${path} ${quantity}`}>
            <label htmlFor={`${id}-${quantity}`}>
              {quantityName(quantity)}
              {unit === '' ? '' : ` / ${unit === 'W/(m2 K)' ? 'W/(m² K)' : unit}`}
            </label>
            <input
              id={`${id}-${quantity}`}
              value={typed[quantity] ?? ''}
              maxLength={100}
              autoComplete="off"
              inputMode="decimal"
              onChange={(event) => set(quantity, event.target.value)}
            />
          </div>
        ))}
      </div>
      <p className="words">
        <button type="submit" className="deed" disabled={!filled || keep.isPending}>
          keep the values of all recordings
        </button>
        {data !== null && (
          <button type="button" className="word" onClick={leave}>
            leave it
          </button>
        )}
      </p>
      <p className="quiet small">
        They are kept as a new sheet, which takes the place of the one before. A cell may carry another unit,
        as 0.69 min.
      </p>
      {keep.isError && <Trouble error={keep.error} />}
    </form>
  );
}
