import './place.css';
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { useLocation, useSearch } from 'wouter';
import type { ComparisonView } from '../../../src/server/contract/index.ts';
import { calls } from '../api/calls.ts';
import { keys, useComparison, useExperiment } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { type Choice, choiceFrom, searchWith } from './choice.ts';
import { Choose } from './choose.tsx';
import { countWords, groupsOf, nameOf, theoryBasis } from './compared.ts';
import { CompareDocuments } from './documents.tsx';
import { InWords } from './in-words.tsx';
import { LeftOut } from './left-out.tsx';
import { Levels } from './levels.tsx';
import { Noted } from './noted.tsx';
import { Results } from './results.tsx';
import { Trends } from './trends.tsx';

/** Measured time constants held against theory. */
export default function ComparePlace() {
  const all = useComparison();
  useTitle('compare');
  return (
    <>
      <h1>Measured against predicted</h1>
      {all.error !== null && <Trouble error={all.error} again={() => void all.refetch()} />}
      {all.data !== undefined ? (
        <Comparison all={all.data} />
      ) : (
        all.error === null && <Waiting what="the comparison" />
      )}
    </>
  );
}

function Comparison({ all }: { readonly all: ComparisonView }) {
  const search = useSearch();
  const [, navigate] = useLocation();
  const { projector } = useProjector();
  const { data: experiment } = useExperiment();
  const choice = useMemo(() => choiceFrom(search), [search]);
  const some = useQuery({
    queryKey: [...keys.comparison, ...choice.groups],
    queryFn: () => calls.comparisonOf(choice.groups),
    enabled: choice.groups.length > 0,
    placeholderData: keepPreviousData,
  });
  const behind = choice.groups.length > 0 && (some.isPlaceholderData || some.data === undefined);
  const view = choice.groups.length > 0 ? (some.data ?? all) : all;
  const conditions = useMemo(
    () => view.conditions.filter((one) => !choice.without.includes(nameOf(one))),
    [view, choice.without],
  );
  const basis = useMemo(() => theoryBasis(experiment?.text ?? ''), [experiment?.text]);
  const groups = useMemo(() => groupsOf(all), [all]);

  const choose = (next: Choice) => {
    const text = searchWith(search, next);
    navigate(text === '' ? '/compare' : `/compare?${text}`, { replace: true });
  };
  if (all.conditions.length === 0) {
    return (
      <>
        <p className="compare-standing">
          There is nothing to compare yet: no recording counts. A recording counts when it has a body and a
          flow and needs no repeat.
        </p>
        <LeftOut left={all.left} />
      </>
    );
  }
  return (
    <>
      <p className="compare-standing" role="status">
        {behind && (
          <span className="quiet">
            {some.error === null
              ? 'The groups that were chosen are being compared; until then this is from before: '
              : 'The groups that were chosen could not be compared; this is from before: '}
          </span>
        )}
        <span className="strong">
          {conditions.length} {conditions.length === 1 ? 'condition' : 'conditions'}
        </span>
        : {countWords(conditions).join(', ') || 'none chosen'}
        {choice.groups.length > 0 &&
          `, from the recordings of ${groupWords(groupsOf(view), groups.length, projector)}`}
        .
      </p>
      {some.error !== null && choice.groups.length > 0 && (
        <Trouble error={some.error} again={() => void some.refetch()} />
      )}
      <Choose
        names={all.conditions.map(nameOf)}
        groups={projector ? [] : groups}
        choice={choice}
        choose={choose}
      />
      <Levels conditions={conditions} accuracy={basis.accuracy} />
      <Results conditions={conditions} />
      <Trends conditions={conditions} trends={view.trends} basis={basis} />
      <InWords conditions={conditions} projector={projector} />
      <Noted noted={view.noted} conditions={conditions} />
      <LeftOut left={view.left} />
      <CompareDocuments groups={groups} chosen={choice.groups} />
    </>
  );
}

/** Whose recordings these are, by the runs themselves. */
function groupWords(groups: readonly string[], all: number, projector: boolean): string {
  if (groups.length === all) return 'all groups';
  if (projector) return groups.length === 1 ? 'a group' : 'some groups';
  return groups.length > 6 ? `${groups.length} groups` : groups.join(', ');
}
