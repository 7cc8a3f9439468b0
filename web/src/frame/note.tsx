/**
 * A remark in the margin, tied by a thin line to what it speaks of.
 *
 *   <div className="spread">
 *     <div className="wide">…the figure…</div>
 *     <div className="margin">
 *       <Note place="baseline, 0 s to 12 s" weight="caution" action="Record 20 s.">12 s is too short …</Note>
 *     </div>
 *   </div>
 *
 * `weight`: note (plain), caution (its first word is strong), repeat (strong, with a thick line of its own).
 * `code` is shown small, as scripts and course notes refer to it. `style={{ top }}` moves it beside its place.
 */
import type { CSSProperties, ReactNode } from 'react';
import { Sentence } from './sentence.tsx';

const words = { note: 'note', caution: 'caution', repeat: 'repeat' } as const;

export function Note({
  place,
  weight = 'note',
  action,
  code,
  style,
  children,
}: {
  /** What it speaks of: a stretch of the recording, a line of the file, a row of the table. */
  readonly place?: string | undefined;
  readonly weight?: keyof typeof words;
  readonly action?: string | undefined;
  readonly code?: string | undefined;
  readonly style?: CSSProperties;
  readonly children: ReactNode;
}) {
  return (
    <div className={`note note-${weight}`} role="note" style={style}>
      {(place !== undefined || weight !== 'note') && (
        <p className="note-place">
          {weight !== 'note' && <span className="strong">{words[weight]}</span>}
          {weight !== 'note' && place !== undefined && ': '}
          {place}
        </p>
      )}
      <p>{children}</p>
      {action !== undefined && (
        <p className="note-action">
          <Sentence>{action}</Sentence>
        </p>
      )}
      {code !== undefined && <p className="note-code">{code}</p>}
    </div>
  );
}
