import type { ReactElement } from 'react';
import { chanceShown } from '../../../core/answers/scrutineeringAnswer.ts';
import type { CrossDiagonal } from '../../../core/contract/records.ts';
import { valueText } from '../../../core/format/valueShown.ts';
import {
  ballastOutcome,
  type BallastOutcome,
  type TheirTotal,
} from '../../../core/scrutineering/ballastOutcome.ts';
import type { BallastPlan } from '../../../core/scrutineering/ballastPlan.ts';
import type { BallastProblem } from '../../../core/scrutineering/ballastProblem.ts';
import type { MassUnit } from '../../../core/units.ts';
import styles from './Screen.module.css';

/** What a plan is judged by. */
export interface PlanAbout {
  readonly problem: BallastProblem;
  readonly cross: CrossDiagonal;
  readonly theirs: TheirTotal | null;
  readonly massUnit: MassUnit;
}

const SHARE = { kind: 'share', unit: null } as const;

/** Total, shares, predicted cross and chance of an outcome, as cells. */
export const OutcomeCells = ({
  outcome,
  massUnit,
}: {
  readonly outcome: BallastOutcome;
  readonly massUnit: MassUnit;
}): ReactElement => (
  <>
    <td>{valueText({ kind: 'mass', unit: massUnit }, outcome.total, 0.01)}</td>
    <td>{valueText(SHARE, outcome.frontShare, 1e-4)}</td>
    <td>{valueText(SHARE, outcome.leftShare, 1e-4)}</td>
    <td>{valueText(SHARE, outcome.crossShare, 1e-4)}</td>
    <td className={styles['wraps']}>
      {outcome.passing === null ? '—' : chanceShown(outcome.passing)}
    </td>
  </>
);

export const OutcomeHeads = ({ cross }: { readonly cross: CrossDiagonal }): ReactElement => (
  <>
    <th scope="col">total, ours</th>
    <th scope="col">front</th>
    <th scope="col">left</th>
    <th scope="col">cross {cross}, only predicted</th>
    <th scope="col">passes with</th>
  </>
);

/** The plan that was chosen, place by place, and all plans beside each other. */
export const PlanTable = ({
  about,
  plans,
  chosen,
}: {
  readonly about: PlanAbout;
  readonly plans: readonly BallastPlan[];
  readonly chosen: BallastPlan;
}): ReactElement => {
  const { problem, massUnit } = about;
  const mass = (kg: number): string => valueText({ kind: 'mass', unit: massUnit }, kg, 0.01);
  return (
    <div className={styles['two']}>
      <div className={styles['table']} role="group" aria-label="Plates at each place" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">place</th>
              {problem.plates.map(({ id, name }) => (
                <th key={id} scope="col">
                  {name}
                </th>
              ))}
              <th scope="col">mass</th>
            </tr>
          </thead>
          <tbody>
            {problem.places.map((place, at) => {
              const counts = chosen.counts[at] ?? [];
              const sum = problem.plates.reduce(
                (all, size, i) => all + size.mass * (counts[i] ?? 0),
                0,
              );
              return (
                <tr key={place.id}>
                  <th scope="row">{place.name}</th>
                  {problem.plates.map(({ id }, i) => (
                    <td key={id}>{counts[i] ? <strong>{counts[i]}</strong> : '·'}</td>
                  ))}
                  <td>{sum > 0 ? mass(sum) : '—'}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <div className={styles['table']} role="group" aria-label="Plans compared" tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">ballast</th>
              <OutcomeHeads cross={about.cross} />
            </tr>
          </thead>
          <tbody>
            {plans.map((plan) => (
              <tr key={JSON.stringify(plan.counts)} data-wished={plan === chosen}>
                <th scope="row">
                  {mass(plan.worth.grams / 1000)}, {plan.worth.plates} pl.
                </th>
                <OutcomeCells
                  outcome={ballastOutcome(problem, plan.counts, about)}
                  massUnit={massUnit}
                />
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
};
