import { useState } from 'react';
import { documentFiles, resultsFiles } from '../frame/download-files.ts';
import { Downloads } from '../frame/downloads.tsx';

/** The report of a group, and the results of all. */
export function CompareDocuments({
  groups,
  chosen,
}: {
  /** All there are. */
  readonly groups: readonly string[];
  /** Those that are compared; empty for all. */
  readonly chosen: readonly string[];
}) {
  const [group, setGroup] = useState<string | null>(null);
  const [pages, setPages] = useState(false);
  const shown = group ?? chosen[0] ?? groups[0] ?? null;
  const results = {
    what: 'Results',
    says: 'one row a trial of all groups, by their codes; in a data package every column is described',
    files: resultsFiles,
  };
  if (shown === null) return <Downloads rows={[results]} />;
  const parameters = { group: shown, pages: String(pages) };
  return (
    <Downloads
      rows={[
        {
          what: 'Group report',
          says: `${shown}: results ready to be quoted, held against theory${pages ? ', and each trial in full' : ''}`,
          files: documentFiles('group', parameters),
        },
        results,
      ]}
    >
      <label>
        group{' '}
        <select value={shown} onChange={({ target }) => setGroup(target.value)}>
          {groups.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </label>
      <label>
        <input type="checkbox" checked={pages} onChange={({ target }) => setPages(target.checked)} /> each
        trial in full
      </label>
    </Downloads>
  );
}
