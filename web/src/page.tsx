import { lazy, Suspense, useEffect } from 'react';
import { Route, Switch } from 'wouter';
import { useSession } from './api/queries.ts';
import { ExperimentPlace } from './experiment/place.tsx';
import { Frame } from './frame/frame.tsx';
import { NotHere } from './frame/not-here.tsx';
import { useProjector } from './frame/projector.ts';
import { Trouble } from './frame/trouble.tsx';
import { Waiting } from './frame/waiting.tsx';

const PlanPlace = lazy(() => import('./plan/place.tsx'));
const ComparePlace = lazy(() => import('./compare/place.tsx'));
const ClassPlace = lazy(() => import('./class/place.tsx'));
const AddPlace = lazy(() => import('./add/place.tsx'));
const FloorPlace = lazy(() => import('./floor/place.tsx'));
const RecordingPlace = lazy(() => import('./recording/place.tsx'));
const RigPlace = lazy(() => import('./rig/place.tsx'));
const SubmissionsPlace = lazy(() => import('./submissions/place.tsx'));
const StepsPlace = lazy(() => import('./steps/place.tsx'));

/** The whole page: the frame, and the place that the address names. */
export function Page() {
  const { data: session, error, refetch } = useSession();
  const { projector } = useProjector();
  if (error !== null) return <Trouble error={error} again={() => void refetch()} />;
  if (session === undefined) return <Waiting what="the page" />;
  if (session.caller?.role === 'display' && !projector) return <ToProjector />;
  return (
    <Frame session={session}>
      <Suspense fallback={<Waiting what="this place" />}>
        <Switch>
          <Route path="/">{() => <ExperimentPlace />}</Route>
          <Route path="/plan">{() => <PlanPlace />}</Route>
          <Route path="/compare">{() => <ComparePlace />}</Route>
          <Route path="/class">{() => <ClassPlace />}</Route>
          <Route path="/add">{() => <AddPlace />}</Route>
          <Route path="/floor">{() => <FloorPlace />}</Route>
          <Route path="/submissions">{() => <SubmissionsPlace />}</Route>
          <Route path="/rig">{() => <RigPlace />}</Route>
          <Route path="/recordings/*">{(params) => <RecordingOrSteps path={params['*'] ?? ''} />}</Route>
          <Route>{() => <NotHere />}</Route>
        </Switch>
      </Suspense>
    </Frame>
  );
}

/** A display shows the benches as a class may see them, and nothing else. */
function ToProjector() {
  useEffect(() => window.location.replace('/floor?view=projector'), []);
  return <Waiting what="the benches" />;
}

/** `/recordings/<path>` or `/recordings/<path>/steps`. */
function RecordingOrSteps({ path }: { readonly path: string }) {
  const decoded = decodedPath(path);
  if (decoded === null) return <NotHere />;
  const steps = /^(.*)\/steps$/.exec(decoded)?.[1];
  return steps === undefined ? <RecordingPlace path={decoded} key={decoded} /> : <StepsPlace path={steps} />;
}

/** Null where an address holds bytes that are no text. */
function decodedPath(path: string): string | null {
  try {
    return path.split('/').map(decodeURIComponent).join('/');
  } catch {
    return null;
  }
}
