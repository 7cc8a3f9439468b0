import type { Outcome } from './outcome.ts';

/** Advice on logger and protocol, and remarks on the rig. */
export function Settings({ outcome }: { readonly outcome: Outcome }) {
  const { advice } = outcome.plan;
  const remarks = outcome.remarks.filter(({ code }) => !isSafety(code));
  if (advice.length === 0 && remarks.length === 0) return null;
  return (
    <section className="part" aria-labelledby="settings">
      <h2 id="settings">Logger and protocol</h2>
      <dl className="plan-advice">
        {advice.map(({ about, severity, message }) => (
          <div key={`${about} ${message}`}>
            <dt>{about.replace('-', ' ')}</dt>
            <dd>
              {severity === 'caution' && <span className="strong">caution: </span>}
              {message}
            </dd>
          </div>
        ))}
        {remarks.map(({ code, severity, message, action, conditions }) => (
          <div key={`${code} ${message}`}>
            <dt>{severity === 'note' ? 'rig' : <span className="strong">rig: {severity}</span>}</dt>
            <dd>
              {conditions.length > 0 && <span className="quiet">{namesOf(conditions)}: </span>}
              {message} {action} <span className="note-code">{code}</span>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** What has to be said before anyone heats a body or opens a valve. */
export function Cautions({ outcome }: { readonly outcome: Outcome }) {
  const { cautions } = outcome.plan;
  if (cautions.length === 0) return null;
  return (
    <section className="part plan-cautions" aria-labelledby="cautions">
      <h2 id="cautions">Before anyone heats a body or opens a valve</h2>
      <ul className="plain">
        {cautions.map(({ code, message, action }) => (
          <li key={`${code} ${message}`}>
            <span className="strong">{message}</span> {action} <span className="note-code">{code}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function isSafety(code: string): boolean {
  return code === 'heat-safety' || code === 'air-safety';
}

function namesOf(conditions: readonly string[]): string {
  const more = conditions.length - 3;
  return `${conditions.slice(0, 3).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}
