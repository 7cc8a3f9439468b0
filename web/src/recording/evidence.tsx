/** What the time constant rests on: residuals and how they go together, estimates side by side, the budget. */
import { memo, useCallback, useMemo } from 'react';
import type { BudgetLine } from '../../../src/decay/index.ts';
import type { Detail } from '../../../src/server/contract/index.ts';
import { type Draw, FigureWith } from '../frame/figure-with.tsx';
import { Measured } from '../frame/measured.tsx';
import { Note } from '../frame/note.tsx';

export const Evidence = memo(function EvidenceOf({
  name,
  detail,
  projector,
}: {
  readonly name: string;
  readonly detail: Detail;
  readonly projector: boolean;
}) {
  const scale = projector ? 1.5 : 1;
  const file = name.replace(/\W+/g, '-');
  return (
    <>
      <section className="spread" aria-labelledby="residuals">
        <h2 id="residuals">What the fit leaves over</h2>
        <div className="wide flow">
          <Residuals name={name} file={file} detail={detail} scale={scale} />
          <Correlation file={file} detail={detail} scale={scale} />
        </div>
        <div className="margin">
          {detail.adequacy !== null && <Note place="one exponential">{detail.adequacy.sentence}</Note>}
          {detail.fingerprint !== null && <Note place="estimates">{detail.fingerprint}</Note>}
          {detail.noise !== null && <Note place="noise">{detail.noise}</Note>}
        </div>
      </section>
      <section className="spread" aria-labelledby="estimates">
        <h2 id="estimates">Estimates side by side</h2>
        <div className="wide">
          <Estimates file={file} detail={detail} scale={scale} />
        </div>
        <div className="margin">
          <Note place="as a classroom prints it">
            The thin line below an estimate is what a class writes down for it, with the interval of its
            straight line: readings counted as if each were independent of the one before.
          </Note>
        </div>
      </section>
      <section className="spread" aria-labelledby="budget">
        <h2 id="budget">What its uncertainty is made of</h2>
        <div className="wide">
          <Budget file={file} detail={detail} scale={scale} />
        </div>
        <div className="margin">
          {detail.ambient !== null && (
            <Note place="ambient">
              <Measured
                value={detail.ambient.value}
                uncertainty={2 * detail.ambient.standardUncertainty}
                unit="°C"
              />{' '}
              (two standard uncertainties), from {detail.ambient.source}. {detail.ambient.reason}
            </Note>
          )}
        </div>
      </section>
    </>
  );
});

interface PartOfEvidence {
  readonly file: string;
  readonly detail: Detail;
  readonly scale: number;
}

function Residuals({ name, file, detail, scale }: PartOfEvidence & { readonly name: string }) {
  const data = useMemo(() => ({ ...detail.figure, name }), [detail.figure, name]);
  const { residuals: points } = detail;
  const draw = useCallback<Draw>(
    (options) => import('./figures.ts').then((f) => f.residualFigure(data, { ...options, scale, points })),
    [data, points, scale],
  );
  const table = useCallback(
    () => import('./figures.ts').then((f) => f.residualTable(data, points)),
    [data, points],
  );
  return <FigureWith name={`residuals-${file}`} label={`Residuals of ${name}`} draw={draw} table={table} />;
}

function Correlation({ file, detail, scale }: PartOfEvidence) {
  const { correlation } = detail;
  const draw = useCallback<Draw>(
    (options) => import('./figures.ts').then((f) => f.correlationFigure(correlation, { ...options, scale })),
    [correlation, scale],
  );
  const table = useCallback(
    () => import('./figures.ts').then((f) => f.correlationTable(correlation)),
    [correlation],
  );
  return (
    <FigureWith name={`correlation-${file}`} label="Correlation of the residuals" draw={draw} table={table} />
  );
}

function Estimates({ file, detail, scale }: PartOfEvidence) {
  const { estimates, timeConstant } = detail;
  const reported = estimates.find((e) => e.method === timeConstant?.method)?.method ?? null;
  const draw = useCallback<Draw>(
    (options) =>
      import('./figures.ts').then((f) => f.intervalFigure(estimates, reported, { ...options, scale })),
    [estimates, reported, scale],
  );
  const table = useCallback(
    () => import('./figures.ts').then((f) => f.intervalTable(estimates, reported)),
    [estimates, reported],
  );
  return (
    <FigureWith name={`estimates-${file}`} label="Estimates of the time constant" draw={draw} table={table} />
  );
}

function Budget({ file, detail, scale }: PartOfEvidence) {
  const lines = useMemo(() => detail.budget.filter(isBudgetLine), [detail.budget]);
  const draw = useCallback<Draw>(
    (options) => import('./figures.ts').then((f) => f.budgetFigure(lines, { ...options, scale })),
    [lines, scale],
  );
  const table = useCallback(() => import('./figures.ts').then((f) => f.budgetTable(lines)), [lines]);
  return <FigureWith name={`budget-${file}`} label="Uncertainty budget" draw={draw} table={table} />;
}

const sources: Readonly<Record<BudgetLine['source'], true>> = {
  noise: true,
  ambient: true,
  drift: true,
  'start-and-window': true,
  'time-base': true,
  chain: true,
};

function isBudgetLine(line: Detail['budget'][number]): line is Detail['budget'][number] & BudgetLine {
  return Object.hasOwn(sources, line.source);
}
