/**
 * Documents and data to be taken along, a line each: what it is, and words that have it made in some format.
 *
 *   <Downloads rows={[{ what: 'Bench sheet', says: 'one page', files: pages('bench-sheet', {}) }]} />
 *
 * What is made can be given up; what went wrong is said at its line. A class does not see them: they name groups.
 */
import './downloads.css';
import { type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { fetchFile } from '../api/calls.ts';
import { type DownloadFile, type Paper, withPaper } from './download-files.ts';
import { useProjector } from './projector.ts';
import { saveBlob } from './save.ts';
import { Trouble } from './trouble.tsx';

export interface DownloadRow {
  readonly what: string;
  /** What is in it, in a few words. */
  readonly says: string;
  readonly files: readonly DownloadFile[];
}

export function Downloads({
  rows,
  children,
}: {
  readonly rows: readonly DownloadRow[];
  /** Choices that the lines go by. */
  readonly children?: ReactNode;
}) {
  const { projector } = useProjector();
  const [paper, setPaper] = useState<Paper | null>(null);
  const title = useId();
  if (projector) return null;
  const paged = rows.some(({ files }) => files.some((file) => file.paged));
  return (
    <section className="downloads not-on-paper" aria-labelledby={title}>
      <h2 id={title}>Documents and data</h2>
      {(children !== undefined || paged) && (
        <div className="download-choices">
          {children}
          {paged && (
            <label>
              paper of a PDF{' '}
              <select
                value={paper ?? ''}
                onChange={({ target: { value } }) => {
                  setPaper(value === 'a4' || value === 'letter' ? value : null);
                }}
              >
                <option value="">as the experiment file says</option>
                <option value="a4">A4</option>
                <option value="letter">US Letter</option>
              </select>
            </label>
          )}
        </div>
      )}
      <ul className="plain download-rows">
        {rows.map((row) => (
          <Row key={row.what} row={row} paper={paper} />
        ))}
      </ul>
    </section>
  );
}

type State =
  | { readonly kind: 'rest' }
  | { readonly kind: 'making'; readonly word: string }
  | { readonly kind: 'saved'; readonly name: string; readonly remarks: readonly string[] }
  | { readonly kind: 'failed'; readonly error: unknown };

function Row({
  row: { what, says, files },
  paper,
}: {
  readonly row: DownloadRow;
  readonly paper: Paper | null;
}) {
  const [state, setState] = useState<State>({ kind: 'rest' });
  const giveUp = useRef<AbortController | null>(null);
  useEffect(() => () => giveUp.current?.abort(), []);

  const take = async (file: DownloadFile) => {
    giveUp.current?.abort();
    const controller = new AbortController();
    giveUp.current = controller;
    setState({ kind: 'making', word: file.word });
    try {
      const { content, name, remarks } = await fetchFile(withPaper(file, paper), controller.signal);
      if (controller.signal.aborted) return;
      saveBlob(content, name);
      setState({ kind: 'saved', name, remarks });
    } catch (error) {
      if (!controller.signal.aborted) setState({ kind: 'failed', error });
    }
  };
  return (
    <li>
      <p className="download-what">{what}</p>
      <p className="words">
        {files.map((file) => (
          <button key={file.word} type="button" className="word" onClick={() => void take(file)}>
            {file.word}
            <span className="hidden-text"> of {what}</span>
          </button>
        ))}
      </p>
      <p className="quiet small">{says}</p>
      <div className="download-state" role="status">
        {state.kind === 'making' && (
          <p className="words">
            <span>making {state.word} …</span>
            <button
              type="button"
              className="word"
              onClick={() => {
                giveUp.current?.abort();
                setState({ kind: 'rest' });
              }}
            >
              give up
            </button>
          </p>
        )}
        {state.kind === 'saved' && (
          <p>
            Saved as <span className="strong">{state.name}</span>.{' '}
            {state.remarks.map((remark) => (
              <span key={remark}>{remark} </span>
            ))}
          </p>
        )}
      </div>
      {state.kind === 'failed' && (
        <div className="download-state">
          <Trouble error={state.error} />
        </div>
      )}
    </li>
  );
}
