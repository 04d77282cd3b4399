import type { ReactElement } from 'react';
import type { PatchSurvey } from '../../../core/contract/patchSurvey.ts';
import { adviseSights, equalDistances } from '../../../core/flatPatch/adviseSights.ts';
import {
  beginSurvey,
  feetOf,
  POINTS_PER_PAD,
  type PointsPerPad,
} from '../../../core/flatPatch/surveyPlan.ts';
import { fixed } from '../../../core/format/number.ts';
import { typedLength, typedNumber } from '../../../core/format/typed.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field, type Understood } from '../../parts/Field.tsx';
import styles from './Screen.module.css';

/** Scatter of a sight before it was seen, and the twist that is wanted, metre; common practice, no source. */
const USUAL_SCATTER = 1e-4;
const WANTED_TWIST = 5e-5;

const millimetres =
  (most: number) =>
  (text: string): Understood<number> => {
    const typed = typedLength(/[a-z"']\s*$/iu.test(text) ? text : `${text} mm`);
    if (!typed.ok) return typed;
    return typed.value > 0 && typed.value <= most
      ? { ok: true, value: typed.value, said: typed.understood }
      : { ok: false, why: `Above 0, at most ${fixed(1000 * most, 0)} mm.` };
  };

const wholeUpTo =
  (most: number) =>
  (text: string): Understood<number> => {
    const typed = typedNumber(text, '');
    if (!typed.ok) return typed;
    return Number.isInteger(typed.value) && typed.value >= 1 && typed.value <= most
      ? { ok: true, value: typed.value, said: String(typed.value) }
      : { ok: false, why: `A whole number up to ${most}.` };
  };

/** How the survey is made: points, sights, feet; and how many sights the wanted twist takes. */
export const SurveyFields = ({
  car,
  draft,
  onChange,
}: {
  readonly car: Car;
  readonly draft: PatchSurvey;
  readonly onChange: (draft: PatchSurvey) => void;
}): ReactElement => {
  const { points, sights } = draft.survey;
  const perPad = (points.length / 4) as PointsPerPad;
  const perPoint = sights.length / points.length;
  const [foot] = draft.feet;
  const pitch = foot?.pitch ?? 0.00175;
  const travel = foot?.up ?? 0.04;
  const count = draft.feet.length === 3 ? 3 : 4;
  const again = (next: { readonly points: PointsPerPad; readonly sights: number }): void =>
    onChange({
      ...draft,
      survey: structuredClone(beginSurvey(car, next)) as PatchSurvey['survey'],
    });
  const feet = (next: { count?: 3 | 4; pitch?: number; travel?: number }): void =>
    onChange({
      ...draft,
      feet: feetOf(next.count ?? count, {
        pitch: next.pitch ?? pitch,
        travel: next.travel ?? travel,
      }).map((each) => ({ ...each })),
    });
  const { cone } = draft.survey.instrument;
  const advice = adviseSights(car, {
    place: draft.survey.setUps[0]?.place ?? equalDistances(car),
    cone: typeof cone === 'number' ? cone : 0,
    sd: draft.survey.sightScatter?.sd ?? USUAL_SCATTER,
    points: perPad,
    wanted: WANTED_TWIST,
  });
  return (
    <section className={styles['fields']} aria-label="How it is surveyed">
      <Choice
        label="Points on a pad"
        options={POINTS_PER_PAD.map((value) => ({ value: String(value), text: String(value) }))}
        value={String(perPad)}
        onChange={(value) => again({ points: Number(value) as PointsPerPad, sights: perPoint })}
      />
      <Field
        label="Sights of a point"
        text={String(perPoint)}
        inputMode="decimal"
        understand={wholeUpTo(10)}
        onCommit={(value) => again({ points: perPad, sights: value })}
      />
      <Choice
        label="Feet of a pad"
        options={[
          { value: '3', text: '3' },
          { value: '4', text: '4' },
        ]}
        value={String(count)}
        onChange={(value) => feet({ count: value === '3' ? 3 : 4 })}
      />
      <Field
        label="A turn of a screw"
        text={`${fixed(1000 * pitch, 2)} mm`}
        inputMode="decimal"
        understand={millimetres(0.02)}
        onCommit={(value) => feet({ pitch: value })}
      />
      <Field
        label="Travel either way"
        text={`${fixed(1000 * travel, 0)} mm`}
        inputMode="decimal"
        understand={millimetres(0.2)}
        onCommit={(value) => feet({ travel: value })}
      />
      <Choice
        label="Screws go"
        options={[
          { value: 'both', text: 'up and down' },
          { value: 'up', text: 'only up' },
        ]}
        value={draft.onlyUpward ? 'up' : 'both'}
        onChange={(value) => onChange({ ...draft, onlyUpward: value === 'up' })}
      />
      <Choice
        label="The car"
        options={[
          { value: 'off', text: 'is off the pads' },
          { value: 'on', text: 'stands on them' },
        ]}
        value={draft.isWithCar ? 'on' : 'off'}
        onChange={(value) => onChange({ ...draft, isWithCar: value === 'on' })}
      />
      <p className={styles['help']}>{advice.words.join(' ')}</p>
    </section>
  );
};
