import { useMemo, useState, type ReactElement } from 'react';
import { READING } from '../../../core/answers/answer.ts';
import { flatPatchAnswer } from '../../../core/answers/flatPatchAnswer.ts';
import {
  carOnPatch,
  judgedPatch,
  levelled,
  surveysKept,
} from '../../../core/answers/patchStanding.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import type { PatchSurvey } from '../../../core/contract/patchSurvey.ts';
import { CORNERS, inOrder } from '../../../core/corners.ts';
import { wentOtherWay } from '../../../core/flatPatch/patchMoved.ts';
import { planScrews } from '../../../core/flatPatch/screws.ts';
import { beginSurvey, feetOf, screwQuestion } from '../../../core/flatPatch/surveyPlan.ts';
import { patchWorked } from '../../../core/help/patchWorked.ts';
import { clockShown, wallClock } from '../../clockShown.ts';
import type { BenchView } from '../../live/benchClient.ts';
import { useKept } from '../../live/useKept.ts';
import { newId } from '../../newId.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { CautionText } from '../../parts/CautionText.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { EffectTable } from './EffectTable.tsx';
import { Findings } from './Findings.tsx';
import { PatchPlan } from './PatchPlan.tsx';
import { ScrewList } from './ScrewList.tsx';
import { SightsTable } from './SightsTable.tsx';
import { SurveyFields } from './SurveyFields.tsx';
import styles from './Screen.module.css';

const QUESTION = 'Is the ground flat?';
/** M12 feet (ISO 261: 1.75 mm a turn) with 40 mm of travel either way; to be changed beside the survey. */
const FIRST_FEET = feetOf(4, { pitch: 0.00175, travel: 0.04 });

const fresh = (state: BenchState): PatchSurvey => ({
  survey: structuredClone(
    beginSurvey(state.car, { points: 5, sights: 2 }),
  ) as PatchSurvey['survey'],
  feet: FIRST_FEET.map((foot) => ({ ...foot })),
  packers: [0.005, 0.01, 0.02],
  step: 1 / 12,
  onlyUpward: false,
  done: [],
  venueId: state.venue.id,
  carId: state.car.id,
  isWithCar: false,
  note: '',
});

const Patch = ({
  state,
  kept,
}: {
  readonly state: BenchState;
  readonly kept: readonly KeptOf<'patch survey'>[];
}): ReactElement => {
  const { note, give } = useCommand();
  const [chosen, setChosen] = useState<string | null>(null);
  const [draft, setDraft] = useState<PatchSurvey | null>(null);
  const newest = useMemo(() => surveysKept(kept), [kept]);
  const open = newest.find(({ subject }) => subject === chosen) ?? newest[0] ?? null;
  const survey = draft ?? open?.survey ?? null;
  // What was surveyed before the one that is shown.
  const shownAt = open ? newest.indexOf(open) : -1;
  const before = draft ? open : (newest[shownAt + 1] ?? null);
  const standing = useMemo(() => carOnPatch(state), [state]);

  const patch = useMemo(() => levelled(state.car, survey), [survey, state.car]);
  const earlier = useMemo(() => {
    const found = levelled(state.car, before?.survey ?? null);
    return found?.ok ? found : null;
  }, [before, state.car]);
  const planned = useMemo(() => {
    if (!before || !earlier || before.survey.done.length === 0) return null;
    const plan = planScrews(screwQuestion(state.car, earlier, before.survey));
    return plan.ok ? inOrder(plan.heights) : null;
  }, [before, earlier, state.car]);
  const judged = useMemo(
    () => judgedPatch({ patch, earlier, isWithCar: survey?.isWithCar ?? false, standing }),
    [patch, earlier, survey, standing],
  );
  const { effects } = judged;
  const isOtherWay =
    patch?.ok && earlier && planned ? wentOtherWay(earlier.heights, planned, patch.heights) : false;

  const keep = async (next: PatchSurvey, subject: string): Promise<void> => {
    const done = await give(
      {
        do: 'keep',
        record: {
          kind: 'patch survey',
          id: newId(),
          subject,
          at: wallClock(),
          practice: false,
          survey: next,
        },
      },
      { doing: 'Storing the survey.', done: () => 'Survey stored.' },
    );
    if (!done) return;
    setDraft(null);
    setChosen(subject);
  };
  const practise = async (): Promise<void> => {
    if (!draft) return;
    const first = draft.survey.points.filter(({ pad }) => pad === 'LF');
    const sights = draft.survey.sights.length / draft.survey.points.length;
    const result = await give({
      do: 'read practice staff',
      points: first.map(({ x, y }) => ({ x, y })),
      sights,
    });
    if (result?.is !== 'staff read') return;
    const flat = CORNERS.flatMap((corner) => result.readings[corner]);
    setDraft({
      ...draft,
      survey: {
        ...draft.survey,
        sights: draft.survey.sights.map((sight, index) => ({
          ...sight,
          reading: flat[index] ?? null,
        })),
      },
    });
  };

  return (
    <>
      <AnswerHead
        question={QUESTION}
        answer={flatPatchAnswer({
          ...judged,
          massUnit: state.settings.massUnit,
          labels: state.settings.cornerLabels,
        })}
      />
      <div className={styles['bar']}>
        {newest.length > 0 && !draft ? (
          <Pick
            label="Survey"
            options={newest.map(({ subject, at, survey: each }) => ({
              value: subject,
              text: `${clockShown(at)}${each.isWithCar ? ', car on the pads' : ''}`,
            }))}
            value={open?.subject ?? null}
            onChange={setChosen}
          />
        ) : null}
        {draft ? (
          <>
            <PushButton onPress={() => setDraft(null)}>Leave it</PushButton>
            {state.practice ? (
              <PushButton onPress={() => void practise()}>Read the practice staff</PushButton>
            ) : null}
            <PushButton look="main" onPress={() => void keep(draft, newId())}>
              Store the survey
            </PushButton>
          </>
        ) : (
          <PushButton look="main" onPress={() => setDraft(fresh(state))}>
            New survey
          </PushButton>
        )}
        <NoteLine note={note} />
      </div>
      <HowWorkedOut
        worked={() =>
          patchWorked({
            car: state.car,
            mass: standing.mass,
            gravity: standing.gravity,
            patch: patch?.ok ? patch : null,
            effects,
            labels: state.settings.cornerLabels,
            massUnit: state.settings.massUnit,
          })
        }
      />
      {survey ? (
        <div className={styles['body']}>
          <div className={styles['left']}>
            <PatchPlan car={state.car} patch={patch?.ok ? patch : null} state={state} />
            {effects ? <EffectTable effects={effects} state={state} /> : null}
          </div>
          <div className={styles['right']}>
            {patch ? <Findings patch={patch} isOtherWay={isOtherWay} /> : null}
            {draft ? (
              <>
                <CautionText step="at the laser" />
                <SurveyFields car={state.car} draft={draft} onChange={setDraft} />
                <SightsTable draft={draft} patch={patch?.ok ? patch : null} onChange={setDraft} />
              </>
            ) : null}
            {patch?.ok ? (
              <ScrewList
                patch={patch}
                survey={survey}
                car={state.car}
                labels={state.settings.cornerLabels}
                onDone={(done) =>
                  draft
                    ? setDraft({ ...draft, done })
                    : open && void keep({ ...open.survey, done }, open.subject)
                }
              />
            ) : null}
          </div>
        </div>
      ) : (
        <p className={styles['empty']}>
          Four pads on screws, a laser near the middle, a staff. Each pad is read at its middle and
          corners, twice or more; the screen says which screws to turn, which way and how far, and
          what is left does to this car.
        </p>
      )}
    </>
  );
};

const WithSurveys = ({ state }: { readonly state: BenchState }): ReactElement => {
  const kept = useKept('patch survey');
  return kept ? (
    <Patch state={state} kept={kept} />
  ) : (
    <AnswerHead question={QUESTION} answer={READING} />
  );
};

/** Flat patch: is the ground flat? */
export const FlatPatchScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithSurveys state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={READING} />
    )}
  </div>
);
