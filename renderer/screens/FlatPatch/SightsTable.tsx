import type { ReactElement } from 'react';
import type { PatchSurvey } from '../../../core/contract/patchSurvey.ts';
import type { LevelledPatch } from '../../../core/flatPatch/levelPatch.ts';
import { fixed, signed } from '../../../core/format/number.ts';
import { typedLength } from '../../../core/format/typed.ts';
import { Field, type Understood } from '../../parts/Field.tsx';
import styles from './Screen.module.css';

const understand = (text: string): Understood<number | null> => {
  if (text.trim() === '') return { ok: true, value: null, said: 'not read' };
  // A bare number on a staff is millimetres.
  const typed = typedLength(/[a-z"']\s*$/iu.test(text) ? text : `${text} mm`);
  return typed.ok ? { ok: true, value: typed.value, said: typed.understood } : typed;
};

/** The sights, point by point, with what the adjustment leaves of each. */
export const SightsTable = ({
  draft,
  patch,
  onChange,
}: {
  readonly draft: PatchSurvey;
  readonly patch: LevelledPatch | null;
  readonly onChange: (draft: PatchSurvey) => void;
}): ReactElement => {
  const { sights, points } = draft.survey;
  const set = (index: number, reading: number | null): void =>
    onChange({
      ...draft,
      survey: {
        ...draft.survey,
        sights: sights.map((sight, at) => (at === index ? { ...sight, reading } : sight)),
      },
    });
  return (
    <section className={styles['sights']} aria-label="Sights">
      <h2>Sights, staff in the light</h2>
      {points.map((point) => (
        <div key={point.id} className={styles['point']}>
          <span>{point.id}</span>
          {sights.map((sight, index) => {
            if (sight.point !== point.id) return null;
            const no = sights.slice(0, index + 1).filter((each) => each.point === point.id).length;
            const residual = patch?.residuals[index] ?? null;
            const isOut = patch?.leftOut.includes(index) ?? false;
            return (
              // A place in a list that is only ever filled in, never reordered.
              <div key={index} data-out={isOut}>
                <Field
                  label={`${point.id}, sight ${no}`}
                  text={sight.reading === null ? '' : `${fixed(1000 * sight.reading, 1)} mm`}
                  inputMode="decimal"
                  understand={understand}
                  onCommit={(reading) => set(index, reading)}
                />
                <small>
                  {isOut
                    ? 'left out'
                    : residual === null
                      ? ''
                      : `${signed(1000 * residual, 2)} mm left`}
                </small>
              </div>
            );
          })}
        </div>
      ))}
    </section>
  );
};
