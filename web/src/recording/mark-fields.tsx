/** The marks as numbers: to be read, and to be written where a handle is too coarse or out of view. */
import { useEffect, useId, useState } from 'react';
import type { Marks, Span } from '../../../src/server/contract/index.ts';
import {
  type Bounds,
  decimalsOf,
  type MarkName,
  markNames,
  moveMark,
  newPart,
  type Positions,
  partOf,
  timeOf,
} from './marks.ts';

export function MarkFields({
  marks,
  setMoved,
  positions,
  bounds,
  step,
  peak,
  heatings,
  heating,
}: {
  readonly marks: Marks;
  readonly setMoved: (marks: Marks) => void;
  readonly positions: Positions;
  readonly bounds: Bounds;
  readonly step: number;
  /** Time of the peak, s. */
  readonly peak: number | null;
  /** Every heating that was found. */
  readonly heatings: readonly Span[];
  /** Which of them counts, from 1. */
  readonly heating: number | null;
}) {
  const group = useId();
  const field = (name: MarkName) => {
    const time = timeOf(positions, name);
    return (
      time !== null && (
        <NumberField
          label={name.endsWith('from') ? 'from' : 'to'}
          name={`${partOf(name)} ${name.endsWith('from') ? 'from' : 'to'}`}
          value={time}
          decimals={decimalsOf(step)}
          change={(next) => setMoved(moveMark(marks, positions, name, next, bounds))}
        />
      )
    );
  };
  const part = (which: 'baseline' | 'cooling') => (
    <p className="mark-fields">
      <span className="strong">{which}</span>
      {positions[which] === null ? (
        <button
          type="button"
          className="word"
          onClick={() => setMoved({ ...marks, [which]: newPart(which, positions, bounds.end, peak) })}
        >
          mark one
        </button>
      ) : (
        markNames
          .filter((name) => partOf(name) === which)
          .map((name) => <span key={name}>{field(name)}</span>)
      )}
    </p>
  );
  return (
    <div className="small">
      {part('baseline')}
      {part('cooling')}
      {heatings.length > 1 && (
        <fieldset className="mark-fields">
          <legend className="strong">heating</legend>
          {heatings.map(({ from }, i) => (
            <label key={from}>
              <input
                type="radio"
                name={group}
                checked={heating === i + 1}
                onChange={() => setMoved({ ...marks, heating: i + 1, cooling: null })}
              />{' '}
              {i + 1}, from {from.toFixed(0)} s
            </label>
          ))}
        </fieldset>
      )}
    </div>
  );
}

/** A number that is taken when the field is left or Enter is pressed. */
function NumberField({
  label,
  name,
  value,
  decimals,
  change,
}: {
  readonly label: string;
  /** What the number is of, for those who do not see where it stands. */
  readonly name: string;
  readonly value: number;
  readonly decimals: number;
  readonly change: (value: number) => void;
}) {
  const shown = value.toFixed(decimals);
  const [text, setText] = useState(shown);
  const id = useId();
  useEffect(() => setText(shown), [shown]);
  const take = () => {
    const next = Number(text.replace(',', '.'));
    if (text.trim() === '' || !Number.isFinite(next)) setText(shown);
    else if (text !== shown) change(next);
  };
  return (
    <>
      <label htmlFor={id}>
        <span className="hidden-text">{name}</span>
        <span aria-hidden="true">{label}</span>
      </label>{' '}
      <input
        id={id}
        className="short"
        inputMode="decimal"
        value={text}
        onChange={(event) => setText(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take();
        }}
      />{' '}
      s
    </>
  );
}
