import type { KeyboardEvent } from 'react';
import { groupName, plainNames } from '../frame/names.ts';
import { type Cell, type Column, type Grid, mostTrials, trialsOf } from './arrange.ts';
import { Entry } from './entry.tsx';

/** With more the letters are smaller where the window is. */
const usualColumns = 10;

/** Conditions × groups. Arrow keys go from cell to cell. */
export function ConditionGrid({ grid }: { readonly grid: Grid }) {
  const named = grid.sections.some(({ section }) => section !== null);
  const columns = grid.sections.reduce((sum, section) => sum + section.columns.length, 0);
  return (
    <table className={columns > usualColumns ? 'grid grid-many' : 'grid'} onKeyDown={walk}>
      <caption>
        Time constant in s, ± half the width of its 95 % interval; under it how straight ln of the error
        fraction falls. One number a repeat.
      </caption>
      <colgroup>
        <col className="grid-bodies" />
        <col className="grid-flows" />
        <col className="grid-groups" span={columns} />
      </colgroup>
      <thead>
        {named && (
          <tr>
            <td colSpan={2} />
            {grid.sections.map(({ section, columns }) => (
              <th scope="colgroup" colSpan={columns.length} key={section ?? ''} className="grid-section">
                {section === null ? 'no section' : `section ${section}`}
              </th>
            ))}
          </tr>
        )}
        <tr>
          <th scope="col">body</th>
          <th scope="col" className="grid-flow">
            flow
          </th>
          {grid.sections.flatMap(({ section, columns }) =>
            columns.map((column, i) => (
              <th
                scope="col"
                key={`${section} ${nameOf(column)}`}
                className={i === 0 ? 'grid-group grid-section' : 'grid-group'}
              >
                {nameOf(column)}
              </th>
            )),
          )}
        </tr>
      </thead>
      <tbody>
        {grid.rows.map(({ body, flow, planned, cells }, r) => {
          const first = grid.rows[r - 1]?.body !== body;
          const span = grid.rows.slice(r).findIndex((row) => row.body !== body);
          return (
            <tr key={`${body} ${flow}`} className={first ? 'grid-body' : undefined}>
              {first && (
                <th scope="rowgroup" rowSpan={span < 0 ? grid.rows.length - r : span}>
                  {body}
                </th>
              )}
              <th scope="row" className="grid-flow">
                {flow}
                {!planned && <span className="quiet"> not planned</span>}
              </th>
              <Cells cells={cells} row={r} repeats={grid.repeats} />
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Cells({
  cells,
  row,
  repeats,
}: {
  readonly cells: readonly Cell[];
  readonly row: number;
  readonly repeats: number | null;
}) {
  const most = mostTrials(cells);
  let column = 0;
  let section: string | null | undefined;
  return cells.map((cell) => {
    const at = column;
    const of = cell.kind === 'not-begun' ? cell.section : cell.column.section;
    const begins = of !== section;
    section = of;
    column += cell.kind === 'not-begun' ? cell.span : 1;
    const className = begins ? 'grid-section' : undefined;
    if (cell.kind === 'not-begun') {
      return (
        <td key={at} colSpan={cell.span} className={`${className ?? ''} grid-none`}>
          <span aria-hidden="true">–</span>
          <span className="hidden-text">not recorded in this section</span>
        </td>
      );
    }
    if (cell.kind === 'missing') {
      return (
        <td key={at} className={`${className ?? ''} grid-none`}>
          missing
        </td>
      );
    }
    return (
      <td key={at} className={className} data-row={row} data-column={at}>
        {cell.recordings.map((recording) => (
          <Entry
            key={recording.path}
            recording={recording}
            name={plainNames.of(recording.place, recording.path)}
          />
        ))}
        {repeats !== null && trialsOf(cell.recordings) < Math.min(most, repeats) && (
          <p className="entry-verdict">
            {trialsOf(cell.recordings)} of {repeats} repeats
          </p>
        )}
      </td>
    );
  });
}

function nameOf({ group, bench }: Column): string {
  return group === null && bench !== null ? bench : groupName(group, false);
}

const steps: Partial<Record<string, readonly [number, number]>> = {
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
};

/** Takes the focus to the nearest cell in the direction of the arrow that has something in it. */
function walk(event: KeyboardEvent<HTMLTableElement>): void {
  const step = steps[event.key];
  const from = event.target instanceof Element ? event.target.closest<HTMLElement>('td[data-row]') : null;
  if (step === undefined || from === null) return;
  const [down, right] = step;
  let nearest: { cell: HTMLElement; distance: number } | null = null;
  for (const cell of event.currentTarget.querySelectorAll<HTMLElement>('td[data-row]')) {
    const rows = Number(cell.dataset['row']) - Number(from.dataset['row']);
    const columns = Number(cell.dataset['column']) - Number(from.dataset['column']);
    const along = rows * down + columns * right;
    const aside = Math.abs(rows * right) + Math.abs(columns * down);
    const distance = along + 100 * aside;
    if (along > 0 && (nearest === null || distance < nearest.distance)) nearest = { cell, distance };
  }
  const link = nearest?.cell.querySelector<HTMLElement>('a');
  if (link === null || link === undefined) return;
  event.preventDefault();
  link.focus();
}
