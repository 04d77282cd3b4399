import { useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import { ballastAnswer } from '../../../core/answers/ballastAnswer.ts';
import { checkBallast } from '../../../core/scrutineering/ballastProblem.ts';
import { CautionText } from '../../parts/CautionText.tsx';
import { cx } from '../../parts/cx.ts';
import { Choice } from '../../parts/Choice.tsx';
import { keepCommand } from '../../parts/keepCommand.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { BallastPlaces } from './BallastPlaces.tsx';
import { BallastRules } from './BallastRules.tsx';
import { ChosenPlan } from './ChosenPlan.tsx';
import { PlanTable } from './PlanTable.tsx';
import { Plates } from './Plates.tsx';
import styles from './Screen.module.css';
import { useBallast, type BallastAsked } from './useBallast.ts';
import type { Scrutineering } from './useScrutineering.ts';
import { WeighAgain } from './WeighAgain.tsx';
import { WhatIf } from './WhatIf.tsx';

const ORDINALS = ['best', 'second', 'third', 'fourth'] as const;
type Ordinal = (typeof ORDINALS)[number];

/** What has come of planning, in words and as a plan. */
const Planned = ({
  own,
  asked: { shown, question },
}: {
  readonly own: Scrutineering;
  readonly asked: BallastAsked;
}): ReactElement | null => {
  const { note, give } = useCommand();
  const [ordinal, setOrdinal] = useState<Ordinal>('best');
  if (!shown) return null;
  const { massUnit } = own.state.settings;
  const answer: Answer = ballastAnswer(shown, massUnit);
  const plans = shown.best ? [shown.best, ...shown.others] : [];
  const plan = plans[ORDINALS.indexOf(ordinal)] ?? plans[0] ?? null;
  const total = own.items.find(({ limited }) => limited.id === 'total')?.limited;
  const about = {
    problem: shown.problem,
    cross: own.state.car.details?.cross ?? own.state.settings.cross,
    theirs: total?.prediction ? { prediction: total.prediction, limit: total.limit } : null,
    massUnit,
  };
  const isOther = question.ok && JSON.stringify(question.problem) !== JSON.stringify(shown.problem);
  return (
    <section className={styles['part']} aria-label="Plan">
      <p className={styles['planned']} data-tone={answer.tone} role="status">
        {answer.text}
      </p>
      {isOther ? (
        <Tag kind="stale">planned for other numbers than those below: plan again</Tag>
      ) : null}
      {plan ? (
        <>
          {plans.length > 1 ? (
            <Choice<Ordinal>
              label="Plans"
              options={ORDINALS.slice(0, plans.length).map((value) => ({ value, text: value }))}
              value={ORDINALS[plans.indexOf(plan)] ?? 'best'}
              onChange={setOrdinal}
            />
          ) : null}
          <PlanTable about={about} plans={plans} chosen={plan} />
          <WhatIf about={about} plan={plan} />
          <WeighAgain about={about} plan={plan} labels={own.state.settings.cornerLabels} />
          <footer className={styles['actions']}>
            <NoteLine note={note} />
            <PushButton
              onPress={() =>
                void give(
                  keepCommand({
                    kind: 'ballast plan',
                    subject: own.state.car.id,
                    problem: shown.problem,
                    plan,
                    authorityId: own.chosen?.id ?? '',
                  }),
                  { doing: 'Storing.', done: () => 'This plan is kept.' },
                )
              }
            >
              Keep this plan
            </PushButton>
          </footer>
        </>
      ) : null}
    </section>
  );
};

/** Ballast: what to carry where, so that their total passes and the balance stays. */
export const Ballast = ({ own }: { readonly own: Scrutineering }): ReactElement => {
  const asked = useBallast(own);
  const { note, give } = useCommand();
  if (!asked || !own.chosen)
    return (
      <p className={styles['empty']}>
        Here stands which plates to put where, so that their total passes and the balance stays. Add
        the scrutineers above first.
      </p>
    );
  const { question, shown } = asked;
  const isSearching = shown?.standing.is === 'searching';
  const wrong = question.ok ? checkBallast(question.problem) : [question.why];
  return (
    <div className={styles['readings']}>
      <Planned own={own} asked={asked} />
      <div className={styles['two']}>
        <Plates plates={asked.plates} massUnit={own.state.settings.massUnit} />
        <BallastRules own={own} asked={asked} />
      </div>
      <BallastPlaces own={own} asked={asked} />
      <ChosenPlan own={own} />
      <CautionText step="at the ballast" />
      <div className={cx(styles['actions'], styles['planning'])} role="group" aria-label="Planning">
        <div className={styles['sentences']}>
          {wrong.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          {question.ok ? question.notes.map((sentence) => <p key={sentence}>{sentence}</p>) : null}
          <NoteLine note={note} />
        </div>
        <div className={styles['buttons']}>
          <PushButton isDisabled={!isSearching} onPress={() => void give({ do: 'cancel ballast' })}>
            Stop looking
          </PushButton>
          <PushButton
            look="main"
            isDisabled={wrong.length > 0}
            onPress={() => {
              if (question.ok) void give({ do: 'plan ballast', problem: question.problem });
            }}
          >
            Plan
          </PushButton>
        </div>
      </div>
    </div>
  );
};
