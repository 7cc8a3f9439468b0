/** How the rigs stand, in two tables: what belongs to benches, and what belongs to bodies. */
import type { ReactNode } from 'react';
import { checkedThing } from '../../../src/rig/index.ts';
import type { RigStandingView, RigView } from '../../../src/server/contract/index.ts';
import { benchTable, bodyRows, stateWords } from './standing.ts';

export function Benches({ view }: { readonly view: RigView }) {
  const { columns, rows } = benchTable(view.standings, view.benches);
  if (rows.length === 0) return null;
  return (
    <Scrolled name="Checks of the benches">
      <table className="figures">
        <caption>Benches, each by its latest check</caption>
        <thead>
          <tr>
            <th scope="col">check</th>
            <th scope="col">should be</th>
            {columns.map((column) => (
              <th scope="col" key={column ?? ''}>
                {column ?? 'the rig'}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ kind, subject, limit, cells }) => (
            <tr key={JSON.stringify([kind, subject])}>
              <th scope="row">{checkedThing(kind, subject)}</th>
              <td className="quiet">{limit ?? ''}</td>
              {cells.length < columns.length ? (
                <td colSpan={columns.length}>
                  <Standing standing={cells[0] ?? null} /> <span className="quiet">for all benches</span>
                </td>
              ) : (
                cells.map((standing, i) => (
                  <td key={columns[i] ?? ''}>
                    <Standing standing={standing} />
                  </td>
                ))
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  );
}

export function Bodies({ view }: { readonly view: RigView }) {
  const rows = bodyRows(view.standings);
  if (rows.length === 0) return null;
  return (
    <Scrolled name="Checks of the bodies">
      <table className="figures">
        <caption>Bodies, each by its latest check</caption>
        <thead>
          <tr>
            <th scope="col">body</th>
            <th scope="col">diameter</th>
            <th scope="col">should be</th>
            <th scope="col">mass</th>
            <th scope="col">mass should be</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ body, diameter, mass }) => (
            <tr key={body}>
              <th scope="row">{body}</th>
              <td>
                <Standing standing={diameter} />
              </td>
              <td className="quiet">{diameter?.limitWords ?? ''}</td>
              <td>
                <Standing standing={mass} />
              </td>
              <td className="quiet">{mass?.limitWords ?? ''}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  );
}

/** A latest check with how it stands; what is not in order is told by weight and word. */
function Standing({ standing }: { readonly standing: RigStandingView | null }) {
  if (standing === null) return null;
  const { state, check } = standing;
  if (check === null) return <span className="quiet">{stateWords[state]}</span>;
  return (
    <span className={state === 'in-order' ? undefined : 'strong'}>
      {check.written}, {stateWords[state]}
    </span>
  );
}

function Scrolled({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <section
      className="scroll"
      aria-label={name}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
      tabIndex={0}
    >
      {children}
    </section>
  );
}
