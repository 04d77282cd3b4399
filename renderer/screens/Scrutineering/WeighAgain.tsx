import type { ReactElement } from 'react';
import { cornerLabel, CORNERS } from '../../../core/corners.ts';
import type { Settings } from '../../../core/contract/settings.ts';
import { valueText } from '../../../core/format/valueShown.ts';
import { ballastOutcome } from '../../../core/scrutineering/ballastOutcome.ts';
import type { BallastPlan } from '../../../core/scrutineering/ballastPlan.ts';
import { weighAgain } from '../../../core/scrutineering/weighAgain.ts';
import type { PlanAbout } from './PlanTable.tsx';
import styles from './Screen.module.css';

/** In which order to fit the plates and weigh, with what the pads should then read. */
export const WeighAgain = ({
  about,
  plan,
  labels,
}: {
  readonly about: PlanAbout;
  readonly plan: BallastPlan;
  readonly labels: Settings['cornerLabels'];
}): ReactElement => {
  const { problem, massUnit } = about;
  const mass = (kg: number): string => valueText({ kind: 'mass', unit: massUnit }, kg);
  const steps = weighAgain(problem, plan.counts, ballastOutcome(problem, plan.counts, about));
  return (
    <div className={styles['weigh']}>
      <h3>Fit it and weigh again, in this order</h3>
      <ol>
        {steps.map(({ text, total, loads }, index) => (
          <li key={text}>
            {text}
            <small>
              {index <= steps.length - 3
                ? `then ${mass(total)}: ${CORNERS.map((corner) => `${cornerLabel(corner, labels)} ${mass(loads[corner])}`).join(', ')}`
                : ''}
            </small>
          </li>
        ))}
      </ol>
    </div>
  );
};
