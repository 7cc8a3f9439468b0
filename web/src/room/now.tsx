/** What to do now, large, and what the trial has to pass, with its states in words. */
import type { MineNow, MineTrial, MineView } from '../../../src/server/contract/index.ts';
import { SmallTrace } from '../floor/trace.tsx';
import { Said } from '../frame/said.tsx';
import {
  conditionWords,
  deeds,
  fractionWords,
  gateNames,
  gateStates,
  remainingWords,
  secondsWords,
  temperatureWords,
} from './words.ts';

/** Silence of this many seconds in the middle of a trial is said. */
const quietAfter = 5;

export function Now({
  now,
  protocol,
}: {
  readonly now: MineNow | null;
  readonly protocol: MineView['protocol'];
}) {
  return (
    <section className="room-part spread" aria-labelledby="now">
      <div className="wide flow">
        <h2 id="now">Now</h2>
        {now === null ? (
          <p className="waiting quiet" role="status">
            Looking at your bench …
          </p>
        ) : (
          <Trial now={now} />
        )}
      </div>
      <div className="margin flow">
        {now?.rig.map((sentence) => (
          <div className="note note-caution" role="note" key={sentence}>
            <p className="note-place">the rig</p>
            <p>
              <Said>{sentence}</Said>
            </p>
          </div>
        ))}
        <div className="note" role="note">
          <p className="note-place">at the bench</p>
          <p>
            Eye protection on. Hot air and the body burn, and the body stays hot for minutes: let it cool in
            the jet before anybody touches it. Point neither hot air nor compressed air at anyone, open the
            valve slowly, and keep cords away from the heat. The rules of your laboratory come first.
          </p>
        </div>
        <div className="note" role="note">
          <p className="note-place">each trial</p>
          <p>{protocolWords(protocol)}</p>
        </div>
      </div>
    </section>
  );
}

function protocolWords({ baseline, target, limit, endFraction }: MineView['protocol']): string {
  const heat = target === null ? 'heat' : `heat to ${Math.round(target)} °C`;
  const never = limit === null ? '' : `, never above ${Math.round(limit)} °C`;
  return `Record ${Math.round(baseline)} s with the jet on, ${heat}${never}, take the heat away at once, and record until ${endFraction} of the step is left.`;
}

function Trial({ now }: { readonly now: MineNow }) {
  const { trial, trouble, condition, repeat, quiet } = now;
  const named = condition === null ? null : conditionWords(condition.body, condition.flow);
  return (
    <>
      {named !== null && (
        <p>
          {named}
          {repeat === null ? '' : `, repeat ${repeat}`}
        </p>
      )}
      {trouble !== null && (
        <p className="room-amiss">
          <Said>{`${trouble.message} ${trouble.mend}`}</Said>
        </p>
      )}
      {trial === null ? (
        trouble === null && (
          <p>
            No file of your bench grows. If your logger writes to the laboratory’s folder, this page says here
            what to do; else hand the recording in below when it is over.
          </p>
        )
      ) : (
        <Running trial={trial} quiet={quiet} />
      )}
    </>
  );
}

function Running({ trial, quiet }: { readonly trial: MineTrial; readonly quiet: number | null }) {
  const { advice, phase, temperature, gates } = trial;
  const fraction = fractionWords(trial);
  const left = remainingWords(trial);
  const silent = phase !== 'done' && quiet !== null && quiet >= quietAfter;
  return (
    <>
      <p className={advice.action === 'go-on' ? 'room-advice' : 'room-advice room-act'} role="status">
        <span className="room-deed">{deeds[advice.action]}</span> <Said>{advice.message}</Said>
      </p>
      {silent && <p className="strong">no reading for {secondsWords(quiet)}</p>}
      <dl className="room-course">
        <div>
          <dt>phase</dt>
          <dd>{phase}</dd>
        </div>
        <div>
          <dt>temperature</dt>
          <dd>{temperatureWords(temperature)}</dd>
        </div>
        {fraction !== null && (
          <div>
            <dt>error fraction</dt>
            <dd>{fraction}</dd>
          </div>
        )}
        {left !== null && (
          <div>
            <dt>to the end fraction</dt>
            <dd>{left}</dd>
          </div>
        )}
      </dl>
      <SmallTrace trial={trial} />
      <Gates gates={gates} />
    </>
  );
}

const order = { missed: 0, close: 1, open: 2, met: 3 } as const;

function Gates({ gates }: { readonly gates: MineTrial['gates'] }) {
  const amiss = gates.filter(({ state }) => state === 'missed' || state === 'close');
  const rest = gates.filter(({ state }) => state === 'open' || state === 'met');
  const met = rest.filter(({ state }) => state === 'met').length;
  return (
    <>
      {amiss.length > 0 && <GateList gates={amiss} label="What is amiss" />}
      {rest.length > 0 && (
        <details>
          <summary>
            {met} of {gates.length} things that the trial has to pass are met
          </summary>
          <GateList gates={rest.toSorted((a, b) => order[a.state] - order[b.state])} label="What is well" />
        </details>
      )}
    </>
  );
}

function GateList({ gates, label }: { readonly gates: MineTrial['gates']; readonly label: string }) {
  return (
    <ul className="plain room-gates" aria-label={label}>
      {gates.map(({ code, state, message, mend }) => (
        <li key={code} className={state === 'missed' || state === 'close' ? 'room-amiss' : undefined}>
          <span className={state === 'met' ? 'quiet' : 'strong'}>
            {gateNames[code] ?? code}: {gateStates[state]}.
          </span>{' '}
          <Said>{mend === null ? message : `${message} ${mend}`}</Said>
        </li>
      ))}
    </ul>
  );
}
