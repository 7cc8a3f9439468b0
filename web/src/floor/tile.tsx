import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { TileView, TrialView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { Sentence } from '../frame/sentence.tsx';
import { SmallTrace } from './trace.tsx';
import {
  besideWords,
  deeds,
  fractionWords,
  headWords,
  quietWords,
  remainingWords,
  remarksOf,
  temperatureWords,
} from './words.ts';

/** One bench, to be read from three metres. */
export function Tile({
  tile,
  id,
  projector,
  brief,
}: {
  readonly tile: TileView;
  readonly id: string;
  readonly projector: boolean;
  /** Whether what can wait is a word away. */
  readonly brief: boolean;
}) {
  const { trial, trouble, trials, rig, path } = tile;
  const quiet = quietWords(tile);
  return (
    <article className="tile" id={id} tabIndex={-1} aria-labelledby={`${id}-name`}>
      <header className="tile-head">
        <h2 id={`${id}-name`}>{headWords(tile, projector)}</h2>
        <p className="quiet">{besideWords(tile, projector)}</p>
      </header>
      {trial === null ? (
        trouble === null && <p className="tile-phase">{path === null ? 'waiting' : 'opening the file'}</p>
      ) : (
        <Trial trial={trial} brief={brief} />
      )}
      {quiet !== null && <p className="strong">{quiet}</p>}
      {trouble !== null && (
        <p className="tile-trouble">
          <span className="strong">cannot be read: </span>
          {projector ? 'look at its file' : <Sentence>{`${trouble.message} ${trouble.mend}`}</Sentence>}
        </p>
      )}
      {!projector &&
        rig.map((sentence) => (
          <p className="small" key={sentence}>
            <span className="quiet">rig: </span>
            <Sentence>{sentence}</Sentence>
          </p>
        ))}
      {trials.length > 0 && (
        <Aside brief={brief} says={trials.length === 1 ? '1 trial done' : `${trials.length} trials done`}>
          <Done tile={tile} projector={projector} />
        </Aside>
      )}
    </article>
  );
}

/** What can wait: open, or behind a few words. */
function Aside({
  brief,
  says,
  children,
}: {
  readonly brief: boolean;
  readonly says: string;
  readonly children: ReactNode;
}) {
  if (!brief) return children;
  return (
    <details className="tile-aside">
      <summary>{says}</summary>
      {children}
    </details>
  );
}

function Trial({ trial, brief }: { readonly trial: TrialView; readonly brief: boolean }) {
  const { phase, advice } = trial;
  const fraction = fractionWords(trial);
  const left = remainingWords(trial);
  const remarks = remarksOf(trial);
  return (
    <>
      <p className="tile-now">
        <span className="tile-phase">{phase}</span>
        <span className="tile-temperature">{temperatureWords(trial)}</span>
      </p>
      <SmallTrace trial={trial} />
      {(fraction !== null || left !== null) && (
        <dl className="tile-course">
          {fraction !== null && (
            <div>
              <dt>error fraction</dt>
              <dd>{fraction}</dd>
            </div>
          )}
          {left !== null && (
            <div>
              <dt>to the end fraction</dt>
              <dd>
                {left.time} <span className="tile-range">({left.range})</span>
              </dd>
            </div>
          )}
        </dl>
      )}
      <p className={advice.action === 'go-on' ? 'tile-advice' : 'tile-advice tile-act'}>
        <span className="tile-deed">{deeds[advice.action]}</span>{' '}
        {!(brief && advice.action === 'go-on') && (
          <span>
            <Sentence>{advice.message}</Sentence>
          </span>
        )}
      </p>
      {remarks.length > 0 && (
        <Aside brief={brief} says={remarks.length === 1 ? '1 remark' : `${remarks.length} remarks`}>
          {remarks.map((sentence) => (
            <p className="tile-remark" key={sentence}>
              <Sentence>{sentence}</Sentence>
            </p>
          ))}
        </Aside>
      )}
    </>
  );
}

/** Trials of this session that are done, the latest first; each leads to its recording. */
function Done({ tile: { trials }, projector }: { readonly tile: TileView; readonly projector: boolean }) {
  return (
    <ol className="plain tile-done" aria-label="Trials that are done">
      {trials.toReversed().map(({ path, condition, repeat, words }) => {
        const repeated = repeat === null ? '' : `, repeat ${repeat}`;
        const name = condition === null ? 'a recording' : `${condition.body} at ${condition.flow}${repeated}`;
        return (
          <li key={path}>
            {projector ? name : <Link href={`/recordings/${inAddress(path)}`}>{name}</Link>}:{' '}
            <Sentence>{words}</Sentence>
          </li>
        );
      })}
    </ol>
  );
}
