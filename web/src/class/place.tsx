/** The class rolled up: whom to ask to look again, how groups scatter, all on one line, and where the spread comes from. */
import './place.css';
import { useMemo } from 'react';
import { Link, useSearch } from 'wouter';
import type { ClassView } from '../../../src/server/contract/index.ts';
import { useClass, useRecordings } from '../api/queries.ts';
import { Collapse } from '../experiment/collapse.tsx';
import { useProjector } from '../frame/projector.ts';
import { Sentence } from '../frame/sentence.tsx';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { useNames } from '../frame/use-names.ts';
import { Waiting } from '../frame/waiting.tsx';
import { Causes } from './causes.tsx';
import { Conditions } from './conditions.tsx';
import { ClassDocuments } from './documents.tsx';
import { LookAgain } from './look-again.tsx';
import { Others } from './others.tsx';
import { standingWords, strayWords } from './words.ts';

export default function ClassPlace() {
  useTitle('class');
  const section = new URLSearchParams(useSearch()).get('section');
  const rolled = useClass(section);
  return (
    <div className="class">
      <h1>{section === null ? 'The class' : `Section ${section}`}</h1>
      <Sections section={section} />
      {rolled.error !== null && <Trouble error={rolled.error} again={() => void rolled.refetch()} />}
      {rolled.data === undefined
        ? rolled.error === null && <Waiting what="the class" />
        : rolled.error === null && <Rolled view={rolled.data} section={section} />}
    </div>
  );
}

/** The whole class, and each section that the course or its recordings name. */
function Sections({ section }: { readonly section: string | null }) {
  const { projector } = useProjector();
  const { data: whole } = useClass(null);
  if (projector || whole === undefined || whole.sections.length < 2) return null;
  return (
    <nav aria-label="Sections">
      <ul className="words plain class-sections">
        <li>
          <Link href="/class" aria-current={section === null ? 'page' : undefined}>
            whole class
          </Link>
        </li>
        {whole.sections.map((one) => (
          <li key={one}>
            <Link
              href={`/class?section=${encodeURIComponent(one)}`}
              aria-current={section === one ? 'page' : undefined}
            >
              section {one}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function Rolled({ view, section }: { readonly view: ClassView; readonly section: string | null }) {
  const { projector } = useProjector();
  const names = useNames();
  const { data: list } = useRecordings();
  const strays = useMemo(() => strayWords(view), [view]);
  const recordings = useMemo(
    () => (list?.recordings ?? []).filter(({ place }) => section === null || place.section === section),
    [list, section],
  );
  return (
    <>
      <p className="class-standing" role="status">
        {standingWords(view)}
      </p>
      {view.waiting > 0 && (
        <Waiting what="recordings analyzed" done={view.recordings} total={view.recordings + view.waiting} />
      )}
      {view.earlier.terms.length > 0 && (
        <p className="quiet small">
          {view.earlier.recordings} recordings of {view.earlier.terms.join(', ')} tell how much groups usually
          differ.
        </p>
      )}
      {view.troubles.map(({ folder, message }) => (
        <p key={folder} role="note">
          <span className="strong">Earlier term {folder}: </span>
          {message}
        </p>
      ))}
      {view.privacy !== null && !projector && <p className="quiet small">{view.privacy}</p>}
      <LookAgain view={view} projector={projector} />
      {view.conditions.length > 0 && (
        <>
          <Conditions view={view} projector={projector} />
          <section className="part" aria-labelledby="class-collapse">
            <h2 id="class-collapse">All on one line</h2>
            <Collapse recordings={recordings} names={names} strayOf={strays} />
          </section>
        </>
      )}
      {view.causes !== null && <Causes causes={view.causes} projector={projector} />}
      <Others view={view} projector={projector} />
      <ClassDocuments section={section} />
      <p className="quiet small class-checked">
        <Sentence>
          {`Looked at: the labels of ${view.labelsChecked} of ${view.counting} recordings that count, against what other bodies show; the traces of ${view.sketched} of ${view.recordings}, against all others.`}
        </Sentence>
      </p>
    </>
  );
}
