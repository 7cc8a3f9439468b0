/**
 * A measured value with its uncertainty and unit, rounded together and never broken over two lines.
 *
 *   <Measured value={37.28} uncertainty={0.41} unit="s" />            (37.28 ± 0.41) s
 *   <NumberCell text="37.28" decimals={2} />                          a table cell, aligned on the decimal mark
 *   <MeasuredCells value={…} uncertainty={…} decimals={[2, 2]} />     two cells: value, ± uncertainty
 *
 * `decimals` is the most that the column has (`mostDecimals` in numbers.ts); the unit stands in the head of the
 * column. Say beside it once what the uncertainty is: '± is the half-width of the 95 % interval'.
 */
import { measuredWords, splitAtMark } from './numbers.ts';

export function Measured({
  value,
  uncertainty,
  unit,
}: {
  readonly value: number;
  readonly uncertainty: number;
  readonly unit: string;
}) {
  const written = measuredWords(value, uncertainty, unit);
  return (
    <span className="measured">
      {written.value}
      <span className="measured-pm"> ± </span>
      {written.uncertainty}
      {written.scale} {unit}
    </span>
  );
}

/** A number in a table, its decimal mark under those above. */
export function NumberCell({
  text,
  decimals,
  strong = false,
}: {
  readonly text: string;
  readonly decimals: number;
  readonly strong?: boolean;
}) {
  return (
    <td className={strong ? 'number strong' : 'number'}>
      <AtMark text={text} decimals={decimals} />
    </td>
  );
}

export function MeasuredCells({
  value,
  uncertainty,
  decimals,
}: {
  readonly value: number;
  readonly uncertainty: number;
  readonly decimals: readonly [number, number];
}) {
  const written = measuredWords(value, uncertainty, '');
  return (
    <>
      <NumberCell text={written.value} decimals={decimals[0]} />
      <td className="number">
        <span className="measured-pm">± </span>
        <AtMark text={written.uncertainty} decimals={decimals[1]} />
        {written.scale}
      </td>
    </>
  );
}

/** A number whose part behind the decimal mark has the width of the longest in its column. */
export function AtMark({ text, decimals }: { readonly text: string; readonly decimals: number }) {
  const { whole, part } = splitAtMark(text);
  if (decimals <= 0) return <>{text}</>;
  return (
    <>
      {whole}
      <span className="behind-mark" style={{ minWidth: `${decimals + 0.4}ch` }}>
        {part}
      </span>
    </>
  );
}
