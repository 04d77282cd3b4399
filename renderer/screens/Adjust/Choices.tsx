import type { ReactElement } from 'react';
import { choiceOf, type AdjustmentNow } from '../../../core/adjust/adjustment.ts';
import { callInWords } from '../../../core/adjust/callInWords.ts';
import type { Choice as Turns, Left, Plan } from '../../../core/adjust/plan.ts';
import { SHORT_IN_WORDS } from '../../../core/answers/adjustAnswer.ts';
import { diagonalLabel } from '../../../core/answers/balanceAnswer.ts';
import { PLAN_CHOICES, type PlanChoice } from '../../../core/contract/adjustment.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { CORNERS, cornerLabel } from '../../../core/corners.ts';
import { changeText, MM, PERCENT, valueText } from '../../../core/format/valueShown.ts';
import { fixed } from '../../../core/format/number.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

const TITLES: Readonly<Record<PlanChoice, string>> = {
  'heights kept': 'Heights as wanted',
  'fewest corners': 'Fewest corners',
  'one corner': 'One corner',
};
const PlanRows = ({
  choice,
  now,
  state,
}: {
  readonly choice: Turns;
  readonly now: AdjustmentNow;
  readonly state: BenchState;
}): ReactElement => {
  const { massUnit, cornerLabels } = state.settings;
  const mass = { kind: 'mass', unit: massUnit } as const;
  const { predicted, left } = choice;
  const cross = predicted.balance.crossShare;
  const nameOf = ({ kind, corner, point }: Left): string =>
    kind === 'height'
      ? (now.targets.heights[point ?? -1]?.point.name ?? '')
      : corner
        ? cornerLabel(corner, cornerLabels)
        : 'cross';
  const wantedOf = ({ kind }: Left) => (kind === 'cross' ? PERCENT : kind === 'height' ? MM : mass);
  return (
    <table>
      <tbody>
        {CORNERS.map((corner) => {
          const { value, u } = predicted.loads[corner];
          const g = now.reading.gravity;
          return (
            <tr key={corner}>
              <th scope="row">{cornerLabel(corner, cornerLabels)}</th>
              <td>{valueText(mass, value / g, u / g)}</td>
              <td>±{valueText(mass, u / g, u / g)}</td>
            </tr>
          );
        })}
        <tr>
          <th scope="row">Cross {diagonalLabel(predicted.balance.cross, cornerLabels)}</th>
          <td>{valueText(PERCENT, cross.value, cross.u)}</td>
          <td>±{valueText(PERCENT, cross.u, cross.u)}</td>
        </tr>
        {predicted.rises.map((rise, i) => {
          const height = predicted.heights[i];
          const isRise = now.isRise[i] ?? false;
          const shown = height ?? rise;
          return (
            <tr key={now.targets.heights[i]?.point.name}>
              <th scope="row">
                {now.targets.heights[i]?.point.name}
                {isRise || !height ? <small> since the start</small> : null}
              </th>
              <td>
                {isRise || !height
                  ? changeText(MM, shown.value, shown.u)
                  : valueText(MM, shown.value, shown.u)}
              </td>
              <td>±{valueText(MM, shown.u, shown.u)}</td>
            </tr>
          );
        })}
        <tr>
          <th scope="row" colSpan={3} className={styles['leftHead']}>
            Left to the targets
          </th>
        </tr>
        {left.map((each) => (
          <tr key={`${each.kind} ${each.corner} ${each.point}`}>
            <th scope="row">{nameOf(each)}</th>
            <td>{changeText(wantedOf(each), each.off, each.tolerance / 5)}</td>
            <td>of {valueText(wantedOf(each), each.tolerance, each.tolerance / 5)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};

/** The three ways to turn, side by side, each with what it would make of the car. */
export const Choices = ({
  plan,
  now,
  state,
  chosen,
  onChoose,
}: {
  readonly plan: Plan;
  readonly now: AdjustmentNow;
  readonly state: BenchState;
  readonly chosen: PlanChoice;
  readonly onChoose: (name: PlanChoice) => void;
}): ReactElement => (
  <section className={styles['choices']} aria-label="Ways to turn">
    {PLAN_CHOICES.map((name) => {
      const choice = choiceOf(plan, name);
      return (
        <article
          key={name}
          className={styles['choice']}
          data-chosen={name === chosen}
          aria-label={TITLES[name]}
        >
          <h2>{TITLES[name]}</h2>
          {choice.ok ? (
            <>
              <ul className={styles['calls']}>
                {CORNERS.filter((corner) => choice.steps[corner] !== 0).map((corner) => {
                  const adjuster = now.adjusters[corner];
                  return adjuster ? (
                    <li key={corner}>
                      <span aria-hidden="true">{choice.steps[corner] > 0 ? '▲' : '▼'}</span>{' '}
                      {callInWords({ corner, steps: choice.steps[corner] }, adjuster)}
                    </li>
                  ) : null;
                })}
                {CORNERS.every((corner) => choice.steps[corner] === 0) ? (
                  <li>Nothing to turn.</li>
                ) : null}
              </ul>
              <p className={styles['verdict']}>
                {choice.short ? (
                  <Tag kind="alarm">{SHORT_IN_WORDS[choice.short]}</Tag>
                ) : (
                  <Tag kind="note">within tolerance</Tag>
                )}{' '}
                {fixed(choice.distance, 2)} tolerances left
                {choice.proved ? ', no whole steps are better' : ''}
              </p>
              <PlanRows choice={choice} now={now} state={state} />
            </>
          ) : (
            <p>{choice.why}</p>
          )}
          <PushButton
            small
            isDisabled={name === chosen}
            onPress={() => onChoose(name)}
            aria-label={`Take: ${TITLES[name]}`}
          >
            {name === chosen ? 'Taken' : 'Take this'}
          </PushButton>
        </article>
      );
    })}
  </section>
);
