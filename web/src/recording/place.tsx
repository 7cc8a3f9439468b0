/** One recording: what came out of it, what that rests on, and its marks to be moved. */
import './place.css';
import { useEffect, useState } from 'react';
import { Link } from 'wouter';
import type { Detail, Summary } from '../../../src/server/contract/index.ts';
import { inAddress, ProblemError } from '../api/calls.ts';
import { useRecording, useRecordings } from '../api/queries.ts';
import { dataFiles, documentFiles } from '../frame/download-files.ts';
import { type DownloadRow, Downloads } from '../frame/downloads.tsx';
import { Note } from '../frame/note.tsx';
import { useProjector } from '../frame/projector.ts';
import { Sentence } from '../frame/sentence.tsx';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { useNames } from '../frame/use-names.ts';
import { Waiting } from '../frame/waiting.tsx';
import { CorrectReading } from './correct-reading.tsx';
import { Deeds } from './deeds.tsx';
import { Evidence } from './evidence.tsx';
import { FileFacts } from './file-facts.tsx';
import { Headline } from './headline.tsx';
import { History } from './history.tsx';
import { MarkFields } from './mark-fields.tsx';
import { boundsOf, keptMarks, positionsOf, stepFor } from './marks.ts';
import { NeighbourLinks } from './neighbour-links.tsx';
import { Trace } from './trace.tsx';
import { useFollowed } from './use-followed.ts';
import { useMoved } from './use-moved.ts';
import { cutWords, rejectionOf } from './words.ts';

/** @param path of the recording, below the folder's recordings */
export default function RecordingPlace({ path }: { readonly path: string }) {
  const { projector } = useProjector();
  const names = useNames();
  const recording = useRecording(path);
  const { data: list } = useRecordings();
  const summary = list?.recordings.find((r) => r.path === path);
  const of = recording.data ?? summary;
  const name = of === undefined ? names.at(path) : names.of(of.place, path);
  useTitle(name);
  // What was shown before stays where the server does not answer, but not where it says that there is nothing to show.
  if (recording.data !== undefined && !isRefusal(recording.error)) {
    if (recording.data.state === 'unreadable')
      return <Unreadable name={name} path={path} summary={recording.data} error={null} />;
    return <Reading path={path} name={name} kept={recording.data} projector={projector} />;
  }
  if (recording.isError) {
    return (
      <Unreadable
        name={name}
        path={path}
        summary={summary}
        error={recording.error}
        again={() => void recording.refetch()}
      />
    );
  }
  return (
    <div className="flow">
      <h1>{name}</h1>
      <Waiting what="the recording" />
    </div>
  );
}

/** A recording that no result came out of: why, and where to go from here. */
function Unreadable({
  name,
  path,
  summary,
  error,
  again,
}: {
  readonly name: string;
  readonly path: string;
  readonly summary: Summary | undefined;
  readonly error: unknown;
  readonly again?: () => void;
}) {
  const { projector } = useProjector();
  return (
    <div className="recording flow">
      <h1>{name}</h1>
      {error !== null ? (
        <Trouble error={error} again={again} />
      ) : (
        <div className="trouble" role="alert">
          <p className="strong">This recording cannot be read</p>
          <p>
            <Sentence>{summary?.message ?? ''}</Sentence>
          </p>
        </div>
      )}
      <section className="flow" aria-labelledby="reading">
        <h2 id="reading">How the file is read</h2>
        <p>
          The file lies untouched in the folder. Where something of it is understood wrongly or missing, say
          it here; another recording of the trial is taken in under <Link href="/add">add recordings</Link>.
        </p>
        <CorrectReading path={path} projector={projector} unread />
      </section>
      {summary !== undefined && <NeighbourLinks path={path} place={summary.place} projector={projector} />}
    </div>
  );
}

function Reading({
  path,
  name,
  kept,
  projector,
}: {
  readonly path: string;
  readonly name: string;
  /** The result by the marks that count. */
  readonly kept: Detail;
  readonly projector: boolean;
}) {
  const { moved, setMoved, view, setView } = useMoved();
  const followed = useFollowed(path, moved);
  const detail = followed.detail ?? kept;
  const rested = useRested(detail);
  const by = keptMarks(kept.decisions);
  const marks = moved ?? by;
  const duration = kept.duration ?? kept.figure.time.at(-1) ?? 0;
  const rejection = rejectionOf(kept);
  const { rate } = kept.read;

  return (
    <div className="recording">
      <Headline
        name={name}
        detail={detail}
        cut={cutWords(moved, kept.decisions)}
        before={moved === null ? null : kept.timeConstant}
        following={!followed.current}
      />
      {rejection !== null && (
        <p className="strong">
          Taken out of the comparison{projector ? '' : ` by ${rejection.who}`}:{' '}
          <Sentence>{rejection.why}</Sentence>
        </p>
      )}
      {kept.note !== null && (
        <p className="strong">
          <Sentence>{kept.note}</Sentence>
        </p>
      )}
      <Trace
        path={path}
        name={name}
        detail={detail}
        marks={marks}
        setMoved={setMoved}
        view={view}
        setView={setView}
        projector={projector}
      />
      <section className="spread marks" aria-labelledby="marks">
        <h2 id="marks">Marks</h2>
        <div className="wide flow">
          <MarkFields
            marks={marks}
            setMoved={setMoved}
            positions={positionsOf(marks, detail)}
            bounds={boundsOf(duration, rate)}
            step={stepFor(view === null ? duration : view.to - view.from, rate)}
            peak={detail.figure.segments.peak?.time ?? null}
            heatings={detail.heatings}
            heating={marks.heating ?? detail.used.heating}
          />
          {followed.error !== null && <Trouble error={followed.error} />}
          <Deeds path={path} moved={moved} setMoved={setMoved} kept={by} rejection={rejection} />
        </div>
        <div className="margin">
          <Note place="moving marks">
            Drag the words from and to on the figure, or use the arrow keys on them: Shift goes ten times as
            far, Home and End go to the limit. The recording itself is never touched.
          </Note>
        </div>
      </section>
      <Evidence name={name} detail={rested} projector={projector} />
      {detail.prediction !== null && <Predicted prediction={detail.prediction} />}
      <History path={path} decisions={kept.decisions} projector={projector} />
      <FileFacts detail={kept} projector={projector} />
      <Reread path={path} projector={projector} />
      <p className="steps-link">
        <Link href={`/recordings/${inAddress(path)}/steps`}>Work through it, step by step</Link>
      </p>
      <Downloads rows={documentsOf(path, kept)} />
      <NeighbourLinks path={path} place={kept.place} projector={projector} />
    </div>
  );
}

/** By what counts, not by marks that are only moved. */
function documentsOf(path: string, { timeConstant }: Detail): readonly DownloadRow[] {
  const parameters = { recording: path };
  const documents = [
    {
      what: 'Trial report',
      says: 'the result by the marks that count, what it rests on, and who decided what',
      files: documentFiles('trial', parameters),
    },
    {
      what: 'Worked analysis',
      says: 'every step with its formula and the numbers of this recording',
      files: documentFiles('worked', parameters),
    },
  ];
  const cooling = {
    what: 'Cooling data',
    says: 'block means from the hottest reading on, and of how many readings; XLSX with the regression in live formulas',
    files: dataFiles('cooling', ['xlsx', 'csv'], parameters),
  };
  return timeConstant === null ? documents : [...documents, cooling];
}

function isRefusal(error: unknown): boolean {
  return error instanceof ProblemError && error.problem.status === 422;
}

/** A file that can be read may still be read wrongly. */
function Reread({ path, projector }: { readonly path: string; readonly projector: boolean }) {
  const [open, setOpen] = useState(false);
  return (
    <div className="flow">
      <button type="button" className="word" aria-expanded={open} onClick={() => setOpen(!open)}>
        {open ? 'close the corrections' : 'correct how it is read'}
      </button>
      {open && <CorrectReading path={path} projector={projector} unread={false} />}
    </div>
  );
}

/** How long a result rests before the figures below follow, ms: while a mark is moved, number and trace go first. */
const rest = 200;

function useRested(detail: Detail): Detail {
  const [rested, setRested] = useState(detail);
  useEffect(() => {
    const timer = setTimeout(() => setRested(detail), rest);
    return () => clearTimeout(timer);
  }, [detail]);
  return rested;
}

function Predicted({ prediction }: { readonly prediction: NonNullable<Detail['prediction']> }) {
  const [low, high] = prediction.interval;
  const digits = (value: number) => Number(value.toPrecision(3));
  return (
    <section className="flow" aria-labelledby="predicted">
      <h2 id="predicted">What was predicted</h2>
      <p>
        {digits(prediction.timeConstant)} s;{' '}
        {high === null
          ? `at least ${digits(low)} s, with no upper end that could be given`
          : `95 % interval ${digits(low)} s to ${digits(high)} s`}
        .
      </p>
      <p>
        <Sentence>{prediction.sentence}</Sentence>
      </p>
    </section>
  );
}
