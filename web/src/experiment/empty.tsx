import { Link } from 'wouter';
import type { Experiment } from '../../../src/experiment/index.ts';
import { withUnit } from '../../../src/quantity/index.ts';
import type { ExperimentView } from '../../../src/server/contract/index.ts';
import { Note } from '../frame/note.tsx';

const usual = {
  heat: {
    message: 'Hot air and hot bodies burn.',
    action: 'Never touch a body before it has cooled, nor point hot air at anyone.',
  },
  air: {
    message: 'An air jet is opened.',
    action: 'Wear eye protection, fix the hose, open the valve slowly, and never point the jet at skin.',
  },
} as const;

/** Before the first recording: what to do, and what to take care of. */
export function Empty({
  view,
  experiment,
}: {
  readonly view: ExperimentView | undefined;
  readonly experiment: Experiment | null;
}) {
  const cautions = view?.cautions ?? [];
  const heat = cautions.find(({ code }) => code === 'heat-safety') ?? usual.heat;
  const air = cautions.find(({ code }) => code === 'air-safety') ?? usual.air;
  return (
    <div className="spread part">
      <div className="wide flow">
        <h2>No recordings yet</h2>
        <ol className="todo">
          <li>
            <Link href="/plan">Plan the session</Link>: which conditions, in which order, and whether they
            fit.
          </li>
          <li>Record. {trial(experiment)}</li>
          <li>
            <Link href="/add">Add the files</Link>, or put them
            {experiment?.recordings === undefined ? (
              ' into the experiment folder'
            ) : (
              <>
                {' '}
                where the experiment file expects them: <code>{experiment.recordings}</code>
              </>
            )}
            . They appear here as they are analyzed; the files themselves are never changed.
          </li>
        </ol>
      </div>
      <div className="margin">
        <Note place="hot air" weight="caution" action={heat.action}>
          {heat.message}
        </Note>
        <Note place="compressed air" weight="caution" action={air.action}>
          {air.message}
        </Note>
      </div>
    </div>
  );
}

/** One trial by the protocol. */
function trial(experiment: Experiment | null): string {
  if (experiment === null) {
    return 'A trial is a baseline without heat or jet, the heating, and the cooling in the jet until a tenth of the step is left.';
  }
  const { baseline, target, limit } = experiment.protocol;
  const set = (value: number, unit: string) => withUnit(String(Number(value.toPrecision(4))), unit);
  const up = target === undefined ? '' : ` to ${set(target, '°C')}`;
  const top = limit === undefined ? '' : `, never above ${set(limit, '°C')}`;
  const left = set(experiment.protocol['end-fraction'] * 100, '%');
  return `Start the logger, wait ${set(baseline, 's')} without heat, heat${up}${top}, and let the jet cool the body until ${left} of the step is left.`;
}
