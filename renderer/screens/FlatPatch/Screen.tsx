import { useMemo, useState, type ReactElement } from 'react';
import type { Answer } from '../../../core/answers/answer.ts';
import { flatPatchAnswer } from '../../../core/answers/flatPatchAnswer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import type { PatchSurvey } from '../../../core/contract/patchSurvey.ts';
import { CORNERS, inOrder } from '../../../core/corners.ts';
import { judgePatch, patchEffects, type PatchEffects } from '../../../core/flatPatch/effect.ts';
import { levelPatch, type LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import type { SurveyRefusal } from '../../../core/flatPatch/levelSurvey.ts';
import { patchMoved, wentOtherWay } from '../../../core/flatPatch/patchMoved.ts';
import { planScrews } from '../../../core/flatPatch/screws.ts';
import { beginSurvey, feetOf, screwQuestion } from '../../../core/flatPatch/surveyPlan.ts';
import { EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../core/units.ts';
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
const WAITING: Answer = { about: 'reading', text: 'Reading the surveys.', tone: 'wait' };
/** Cross weight that a patch may cost, as a share; common practice, no source. */
const WANTED_CROSS = 0.001;
/** M12 feet (ISO 261: 1.75 mm a turn) with 40 mm of travel either way; to be changed beside the survey. */
const FIRST_FEET = feetOf(4, { pitch: 0.00175, travel: 0.04 });

/** The car as it was last weighed; before that the one of the example's mass, which says the order of size. */
const standingOf = (state: BenchState) => {
  const last = state.captures.find(({ setAside, carId }) => !setAside && carId === state.car.id);
  const balance = last?.balance;
  return {
    car: state.car,
    mass: kilogram(balance?.total.value ?? EXAMPLE_CAR_MASS.mass),
    frontShare: balance?.frontShare.value ?? EXAMPLE_CAR_MASS.frontShare,
    cgLeft: metre(balance?.cgLeftOfCentre.value ?? 0),
    gravity: metrePerSecond2(state.gravity),
  };
};

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
  const newest = useMemo(
    () => [...new Map(kept.map((record) => [record.subject, record])).values()].toReversed(),
    [kept],
  );
  const open = newest.find(({ subject }) => subject === chosen) ?? newest[0] ?? null;
  const survey = draft ?? open?.survey ?? null;
  // What was surveyed before the one that is shown.
  const shownAt = open ? newest.indexOf(open) : -1;
  const before = draft ? open : (newest[shownAt + 1] ?? null);
  const standing = useMemo(() => standingOf(state), [state]);

  const patch = useMemo(
    (): LevelledPatch | SurveyRefusal | null =>
      survey && survey.survey.sights.some(({ reading }) => reading !== null)
        ? levelPatch(state.car, survey.survey)
        : null,
    [survey, state.car],
  );
  const earlier = useMemo(() => {
    if (!before) return null;
    const found = levelPatch(state.car, before.survey.survey);
    return found.ok ? found : null;
  }, [before, state.car]);
  const planned = useMemo(() => {
    if (!before || !earlier || before.survey.done.length === 0) return null;
    const plan = planScrews(screwQuestion(state.car, earlier, before.survey));
    return plan.ok ? inOrder(plan.heights) : null;
  }, [before, earlier, state.car]);
  const effects = useMemo(
    (): PatchEffects | null => (patch?.ok ? patchEffects(standing, patch.heights) : null),
    [patch, standing],
  );
  const moved =
    patch?.ok && earlier && survey?.isWithCar ? patchMoved(earlier.heights, patch.heights) : null;
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
          patch,
          effects,
          verdict: effects ? judgePatch(effects.barsOff, WANTED_CROSS) : null,
          moved,
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
    <AnswerHead question={QUESTION} answer={WAITING} />
  );
};

/** Flat patch: is the ground flat? */
export const FlatPatchScreen = ({ view }: { readonly view: BenchView }): ReactElement => (
  <div className={styles['screen']}>
    {view.state ? (
      <WithSurveys state={view.state} />
    ) : (
      <AnswerHead question={QUESTION} answer={WAITING} />
    )}
  </div>
);
