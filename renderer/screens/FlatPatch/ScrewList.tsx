import { useMemo, type ReactElement } from 'react';
import { Checkbox } from 'react-aria-components/Checkbox';
import type { PatchSurvey } from '../../../core/contract/patchSurvey.ts';
import { cornerLabel, type CornerLabelStyle } from '../../../core/corners.ts';
import { shapeOf } from '../../../core/flatPatch/heights.ts';
import type { LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import { planScrews, screwsLeft } from '../../../core/flatPatch/screws.ts';
import { screwQuestion } from '../../../core/flatPatch/surveyPlan.ts';
import { fixed, signed } from '../../../core/format/number.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { cx } from '../../parts/cx.ts';
import { Tag } from '../../parts/Tag.tsx';
import styles from './Screen.module.css';

/** "1 4/12 up": turns in twelfths, as a hand counts them on a hexagon. */
const turnsText = (turns: number): string => {
  const twelfths = Math.round(Math.abs(turns) * 12);
  const whole = Math.floor(twelfths / 12);
  const rest = twelfths % 12;
  const said = [whole > 0 ? String(whole) : '', rest > 0 ? `${rest}/12` : ''].filter(Boolean);
  return said.join(' ') || fixed(Math.abs(turns), 2);
};

/** Which screws to turn, which way, how far; ticked as they are done. */
export const ScrewList = ({
  patch,
  survey,
  car,
  labels,
  onDone,
}: {
  readonly patch: LevelledPatch;
  readonly survey: PatchSurvey;
  readonly car: Car;
  readonly labels: CornerLabelStyle;
  readonly onDone: (done: PatchSurvey['done']) => void;
}): ReactElement => {
  const plan = useMemo(() => planScrews(screwQuestion(car, patch, survey)), [patch, survey, car]);
  if (!plan.ok)
    return (
      <section className={styles['table']} aria-label="Screws">
        <h2>Screws</h2>
        <p>
          <Tag kind="alarm">out of reach</Tag> <strong>{plan.why}</strong> {plan.next}
        </p>
      </section>
    );
  const left = screwsLeft(plan.turns, survey.done);
  const twist = 1000 * shapeOf(car, plan.heights).twist;
  return (
    <section className={styles['table']} aria-label="Screws">
      <h2>Screws</h2>
      {plan.packers.map(({ pad, thickness }) => (
        <p key={pad}>
          <Tag kind="note">packer first</Tag> {fixed(1000 * thickness, 0)} mm under{' '}
          {cornerLabel(pad, labels)}.
        </p>
      ))}
      <p>
        {left.length === 0
          ? plan.turns.length === 0
            ? 'Nothing to turn.'
            : 'All done: read the pads again.'
          : `${left.length} of ${plan.turns.length} to turn, ${fixed(plan.work, 1)} turns in all; then twist ${signed(twist, 2)} mm.`}
      </p>
      <ol className={styles['screws']}>
        {plan.turns.map(({ pad, foot, turns, follows }) => {
          const isDone = !left.some((screw) => screw.pad === pad && screw.foot === foot);
          return (
            <li key={`${pad} ${foot}`}>
              <Checkbox
                className={cx(styles['screw'])}
                isSelected={isDone}
                onChange={(done) =>
                  onDone(
                    done
                      ? [...survey.done, { pad, foot }]
                      : survey.done.filter((screw) => screw.pad !== pad || screw.foot !== foot),
                  )
                }
              >
                <span className={styles['box']} aria-hidden="true" />
                <strong>{cornerLabel(pad, labels)}</strong> {foot}
                <span className={styles['turns']}>
                  {turns > 0 ? '▲' : '▼'}{' '}
                  {follows
                    ? turns > 0
                      ? `last, until it just touches, about ${turnsText(turns)} up`
                      : `first, out of the way, about ${turnsText(turns)} down`
                    : `${turnsText(turns)} ${turns > 0 ? 'up' : 'down'}`}
                </span>
              </Checkbox>
            </li>
          );
        })}
      </ol>
    </section>
  );
};
