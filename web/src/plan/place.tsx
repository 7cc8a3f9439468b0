import './place.css';
import { useExperiment } from '../api/queries.ts';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { Plan } from './plan.tsx';

/** The session before it is held: what to expect, in which order, what fits; and changing any of it. */
export default function PlanPlace() {
  const experiment = useExperiment();
  useTitle('plan');
  return (
    <>
      <h1>Plan of the session</h1>
      {experiment.error !== null && (
        <Trouble error={experiment.error} again={() => void experiment.refetch()} />
      )}
      {experiment.data !== undefined ? (
        <Plan
          view={experiment.data}
          readAgain={() => void experiment.refetch()}
          key={experiment.data.folder}
        />
      ) : (
        experiment.error === null && <Waiting what="the experiment file" />
      )}
    </>
  );
}
