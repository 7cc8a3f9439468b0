import { useDeferredValue, useEffect, useMemo, useState } from 'react';
import type { FileFault } from '../../../src/experiment/index.ts';
import type { ExperimentView } from '../../../src/server/contract/index.ts';
import { documentFiles } from '../frame/download-files.ts';
import { Downloads } from '../frame/downloads.tsx';
import { ChangeForm } from './change-form.tsx';
import { ChooseBasis } from './choose-basis.tsx';
import { type Edits, readTree, realEdits, withEdits } from './edits.ts';
import { Expected } from './expected.tsx';
import { fieldGroups } from './fields.ts';
import { Keep } from './keep.tsx';
import { type Outcome, type Reckoned, reckon, type Shown, sessionWords } from './outcome.ts';
import { Session } from './session.tsx';
import { Cautions, Settings } from './settings.tsx';
import { rememberEdits, unsavedEdits } from './unsaved.ts';
import { useBasis } from './use-basis.ts';

/** The plan of one experiment file, with what a person has changed and not kept yet. */
export function Plan({ view, readAgain }: { readonly view: ExperimentView; readonly readAgain: () => void }) {
  const { folder, text } = view;
  const [typed, setTyped] = useState<Edits>(() => unsavedEdits(folder));
  const [restored, setRestored] = useState(() => Object.keys(typed).length > 0);
  const tree = useMemo(() => readTree(text), [text]);
  const groups = useMemo(() => fieldGroups(tree), [tree]);
  const edits = useMemo(() => realEdits(tree, typed), [tree, typed]);
  useEffect(() => rememberEdits(folder, edits), [folder, edits]);

  const byTheory = useMemo(() => reckon(text), [text]);
  const basis = useBasis(byTheory);
  const { shown } = basis;
  const before = useMemo(() => (shown === null ? byTheory : reckon(text, shown)), [text, shown, byTheory]);
  // Typing goes first: the plan follows as soon as there is time.
  const settled = useDeferredValue(edits);
  const now = useMemo(() => reckonWith(text, settled, before, shown), [text, settled, before, shown]);
  const { outcome, faults } = useLast(now, before);
  const changed = Object.keys(edits).length;

  const type = (key: string, value: string) => {
    setRestored(false);
    setTyped((last) => ({ ...last, [key]: value }));
  };
  const takeBack = () => {
    setRestored(false);
    setTyped({});
  };

  const form = groups.length > 0 && <ChangeForm groups={groups} edits={edits} faults={faults} type={type} />;
  return (
    <>
      {outcome !== null && <Standing outcome={outcome} before={before} changed={changed > 0} />}
      {outcome !== null && <ChooseBasis basis={basis} />}
      {restored && changed > 0 && (
        <p className="plan-restored">
          <span className="strong">
            {changed === 1 ? 'One change' : `${changed} changes`} from before, not kept yet.
          </span>{' '}
          The plan below goes by {changed === 1 ? 'it' : 'them'}.{' '}
          <button type="button" className="word" onClick={takeBack}>
            take back
          </button>
        </p>
      )}
      <FileFaults
        faults={faults}
        placed={groups.flatMap(({ fields }) => fields.map(({ place }) => place.join(' › ')))}
      />
      {outcome === null ? form : <Session outcome={outcome}>{form}</Session>}
      {outcome !== null && (
        <>
          <Expected outcome={outcome} before={changed > 0 && before.ok ? before.outcome : null} />
          <Settings outcome={outcome} />
          <Cautions outcome={outcome} />
        </>
      )}
      {changed > 0 && (
        <Keep
          view={view}
          edits={edits}
          fault={faults[0]}
          outcome={outcome}
          before={before.ok ? before.outcome : null}
          takeBack={takeBack}
          readAgain={readAgain}
        />
      )}
      {byTheory.ok && (
        <Downloads
          rows={[
            {
              what: 'Bench sheet',
              says: `one page in black and white: settings, run order, blanks to write in${changed > 0 ? '; by the file as it stands, without the changes above' : ''}`,
              files: documentFiles('bench-sheet'),
            },
          ]}
        />
      )}
    </>
  );
}

function reckonWith(text: string, edits: Edits, before: Reckoned, shown: Shown | null): Reckoned {
  if (Object.keys(edits).length === 0) return before;
  const edited = withEdits(text, edits);
  if (edited.ok) return reckon(edited.text, shown);
  return { ok: false, faults: [{ line: 1, place: edited.place.join(' › '), message: edited.message }] };
}

/** While something typed has a fault, the last plan that could be made stays. */
function useLast(now: Reckoned, before: Reckoned): { outcome: Outcome | null; faults: readonly FileFault[] } {
  const [last, setLast] = useState<Outcome | null>(before.ok ? before.outcome : null);
  if (now.ok && now.outcome !== last) setLast(now.outcome);
  return now.ok ? { outcome: now.outcome, faults: [] } : { outcome: last, faults: now.faults };
}

function Standing({
  outcome,
  before,
  changed,
}: {
  readonly outcome: Outcome;
  readonly before: Reckoned;
  readonly changed: boolean;
}) {
  const { verdict, rest } = sessionWords(outcome.plan);
  const was = changed && before.ok ? sessionWords(before.outcome.plan) : null;
  return (
    <div className="plan-standing" aria-live="polite">
      <p>
        <span className="strong">{verdict}</span>: {rest}.
      </p>
      {was !== null && `${was.verdict}: ${was.rest}` !== `${verdict}: ${rest}` && (
        <p className="quiet small">
          By the file as it stands: {was.verdict.toLowerCase()}: {was.rest}.
        </p>
      )}
    </div>
  );
}

/** Faults that have no field of their own to stand at. */
function FileFaults({
  faults,
  placed,
}: {
  readonly faults: readonly FileFault[];
  readonly placed: readonly string[];
}) {
  const rest = faults.filter(
    ({ place }) => !placed.some((own) => place === own || place.startsWith(`${own} › `)),
  );
  if (rest.length === 0) return null;
  return (
    <div className="trouble" role="alert">
      <p className="strong">The experiment file cannot be used as it stands</p>
      <ul>
        {rest.map(({ line, place, message }) => (
          <li key={`${line} ${place} ${message}`}>
            line {line}
            {place === '' ? '' : `, ${place}`}: {message}
          </li>
        ))}
      </ul>
      <p>What has a field below can be mended there; the rest in an editor.</p>
    </div>
  );
}
