import './place.css';
import { useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import type { ExperimentView, RecordingList } from '../../../src/server/contract/index.ts';
import { useExperiment, useRecordings } from '../api/queries.ts';
import { documentFiles, resultsFiles, slideFiles } from '../frame/download-files.ts';
import { Downloads } from '../frame/downloads.tsx';
import { useNarrow } from '../frame/narrow.ts';
import { useProjector } from '../frame/projector.ts';
import { Sentence } from '../frame/sentence.tsx';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { useNames } from '../frame/use-names.ts';
import { Waiting } from '../frame/waiting.tsx';
import { arrange, noCourse, shortCells } from './arrange.ts';
import { Collapse } from './collapse.tsx';
import { ConditionList } from './condition-list.tsx';
import type { ReadCourse } from './course.ts';
import { needsDecision } from './decisions.ts';
import { Empty } from './empty.tsx';
import { addressOf } from './entry.tsx';
import { ConditionGrid } from './grid.tsx';
import { GridRoom } from './grid-room.tsx';
import { Needs } from './needs.tsx';
import { standingOf, standingWords } from './standing.ts';

/** Reading the experiment file needs a good part of the page's code: it comes while the server is asked. */
const reader = import('./course.ts');

/** The experiment at a glance: what stands, what needs a decision, conditions × groups, the collapse. */
export function ExperimentPlace() {
  const experiment = useExperiment();
  const recordings = useRecordings();
  const read = useCourse(experiment.data?.text, experiment.error !== null);
  const title = experiment.data?.course ?? experiment.data?.folder ?? 'Experiment';
  useTitle(title);
  return (
    <>
      <h1>{title}</h1>
      {experiment.error !== null && (
        <Trouble
          error={experiment.error}
          again={() => void Promise.all([experiment.refetch(), recordings.refetch()])}
        />
      )}
      {experiment.data !== undefined && <Faults view={experiment.data} />}
      {recordings.error !== null && experiment.error === null && (
        <Trouble error={recordings.error} again={() => void recordings.refetch()} />
      )}
      {recordings.data !== undefined && read !== null ? (
        <Recordings list={recordings.data} read={read} view={experiment.data} />
      ) : (
        recordings.error === null && <Waiting what="the recordings" />
      )}
      {experiment.data?.faults.length === 0 && (
        <Downloads rows={recordings.data?.recordings.length === 0 ? briefings : [...briefings, results]} />
      )}
    </>
  );
}

const briefings = [
  {
    what: 'Briefing hand-out',
    says: 'what a section is told before it starts: set-up, cautions, settings, run order, theory, analysis',
    files: documentFiles('briefing'),
  },
  {
    what: 'Briefing slides',
    says: 'one file for the projector, opened by a double click: arrows turn, d opens a window for the speaker',
    files: slideFiles,
  },
];

const results = {
  what: 'Results',
  says: 'one row a trial, groups by their codes; in a data package every column is described',
  files: resultsFiles,
};

/** The course by its file; null until it is read. Without the file the paths of the recordings must do. */
function useCourse(text: string | undefined, failed: boolean): ReadCourse | null {
  const [read, setRead] = useState<ReadCourse | null>(null);
  useEffect(() => {
    let late = false;
    if (text !== undefined) {
      void reader.then(({ readCourse }) => {
        if (!late) setRead(readCourse(text));
      });
    } else if (failed) setRead({ course: noCourse, experiment: null });
    return () => {
      late = true;
    };
  }, [text, failed]);
  return read;
}

function Recordings({
  list,
  read,
  view,
}: {
  readonly list: RecordingList;
  readonly read: ReadCourse;
  readonly view: ExperimentView | undefined;
}) {
  const { projector } = useProjector();
  const names = useNames();
  const narrow = useNarrow();
  const grid = useMemo(() => arrange(read.course, list.recordings), [read.course, list.recordings]);
  const needs = useMemo(() => needsDecision(list), [list]);
  const { done, total } = list.progress;
  const { short, recorded } = useMemo(() => shortCells(grid), [grid]);
  if (list.recordings.length === 0 && list.unplaced.length === 0) {
    return <Empty view={view} experiment={read.experiment} />;
  }
  return (
    <>
      <p className="standing">
        {standingWords(standingOf(list, grid)).map(({ count, words, strong }) => (
          <span key={words} className={strong ? 'strong' : undefined}>
            <span className="standing-count">{count}</span> {words}
          </span>
        ))}
      </p>
      {done < total && <Waiting what="recordings analyzed" done={done} total={total} />}
      <section className="part" aria-labelledby="needs">
        <h2 id="needs">
          {needs.length === 0 && short === 0 ? 'Nothing needs a decision' : 'Needs a decision'}
        </h2>
        {needs.length > 0 && <Needs needs={needs} projector={projector} />}
        {short > 0 && (
          <p className="needs-repeats">
            <span className="strong">repeats missing: </span>
            {short === recorded ? 'all' : `${short} of`} {recorded} recorded places in the grid have fewer
            usable trials than the {grid.repeats} that the protocol asks for.
          </p>
        )}
      </section>
      <section className="part" aria-labelledby="conditions">
        <h2 id="conditions">{projector ? 'Conditions' : 'Conditions and groups'}</h2>
        {narrow || projector ? (
          <ConditionList grid={grid} projector={projector} />
        ) : (
          <GridRoom>
            <ConditionGrid grid={grid} />
          </GridRoom>
        )}
        {grid.apart.length > 0 && (
          <p className="apart">
            Without body or flow:{' '}
            {grid.apart.map((recording, i) => (
              <span key={recording.path}>
                {i > 0 && ', '}
                <Link href={addressOf(recording.path)}>{names.of(recording.place, recording.path)}</Link>
              </span>
            ))}
          </p>
        )}
      </section>
      <section className="part" aria-labelledby="collapse">
        <h2 id="collapse">All on one line</h2>
        <div className="spread">
          <div className="wide">
            <Collapse recordings={list.recordings} names={names} />
          </div>
          <div className="margin flow small quiet">
            <p>
              One exponential is a straight line of slope −1, whatever the body and the flow. Drawn by its own
              time constant, every good recording falls on it.
            </p>
            <p>
              A stray's shape says what happened: bent early, the body has more than one temperature; bent
              late, the ambient or the stem; shifted, the start; broken, the jet changed.
            </p>
          </div>
        </div>
      </section>
    </>
  );
}

/** Faults of the experiment file: the page then goes by what the paths say. */
function Faults({ view }: { readonly view: ExperimentView }) {
  if (view.faults.length === 0) return null;
  return (
    <div className="trouble" role="note">
      <p className="strong">The experiment file cannot be used as it stands</p>
      <ul>
        {view.faults.map(({ line, place, message }) => (
          <li key={`${line} ${place} ${message}`}>
            line {line}
            {place === '' ? '' : `, ${place}`}: <Sentence>{message}</Sentence>
          </li>
        ))}
      </ul>
      <p>
        Mend it in <Link href="/plan">plan</Link> or in an editor; until then the grid knows only what the
        paths of the recordings say.
      </p>
    </div>
  );
}
