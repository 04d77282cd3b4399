import { useEffect, useState, type ReactElement } from 'react';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import type { Result } from '../../../core/contract/commands.ts';
import type { Capture } from '../../../core/contract/records.ts';
import type { Settings } from '../../../core/contract/settings.ts';
import { cornerLabel, CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import { massChangeShown, massShown, shareShown } from '../../../core/format/quantity.ts';
import { clockShown } from '../../clockShown.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './BudgetPanel.module.css';

const RATING = 'the maker’s rating';

type Recomputed = Extract<Result, { readonly is: 'recomputed' }>;

/** What a capture would be with other calibrations; the record itself stays. */
export const RecomputePanel = ({
  capture,
  settings,
}: {
  readonly capture: Capture;
  readonly settings: Settings;
}): ReactElement => {
  const { note, give } = useCommand();
  const [known, setKnown] = useState<ReadonlyMap<string, readonly CalibrationRecord[]>>(new Map());
  const [chosen, setChosen] = useState<PerCorner<string | null>>(() =>
    perCorner((corner) => capture.corners[corner].calibrationId),
  );
  const [made, setMade] = useState<Recomputed | null>(null);
  useEffect(() => {
    for (const corner of CORNERS) {
      const { padSerial } = capture.corners[corner];
      void give({ do: 'open pad', padSerial }).then((result) => {
        if (result?.is !== 'pad opened') return;
        const { calibrations } = result.history;
        setKnown((before) => new Map(before).set(padSerial, calibrations));
      });
    }
  }, [capture, give]);
  const compute = async (): Promise<void> => {
    const result = await give(
      { do: 'recompute', captureId: capture.id, calibrations: chosen },
      { doing: 'Computing from the raw counts.', done: null },
    );
    if (result?.is === 'recomputed') setMade(result);
  };
  const unit = settings.massUnit;
  return (
    <section className={styles['budget']} aria-label="Recompute with">
      {CORNERS.map((corner) => {
        const { padSerial } = capture.corners[corner];
        return (
          <Pick
            key={corner}
            label={`${cornerLabel(corner, settings.cornerLabels)}, ${padSerial} with`}
            options={[
              { value: RATING, text: RATING },
              ...(known.get(padSerial) ?? []).map(({ id, madeAt, place }) => ({
                value: id,
                text: `${clockShown(madeAt)}, ${place.name}`,
              })),
            ]}
            value={chosen[corner] ?? RATING}
            onChange={(id) => setChosen({ ...chosen, [corner]: id === RATING ? null : id })}
          />
        );
      })}
      <div className={styles['files']}>
        <PushButton onPress={() => void compute()}>Recompute</PushButton>
        <NoteLine note={note} />
      </div>
      {made ? (
        <table className={styles['terms']}>
          <thead>
            <tr>
              <th scope="col" />
              <th scope="col">would be {unit}</th>
              <th scope="col">against the capture</th>
            </tr>
          </thead>
          <tbody>
            {CORNERS.map((corner) => {
              const mass = made.masses[corner];
              const change = mass.value - capture.corners[corner].mass.value;
              return (
                <tr key={corner}>
                  <th scope="row">{cornerLabel(corner, settings.cornerLabels)}</th>
                  <td>{massShown(unit, mass.value, mass.u).number}</td>
                  <td>{massChangeShown(unit, change, mass.u).number}</td>
                </tr>
              );
            })}
            <tr>
              <th scope="row">Total</th>
              <td>{massShown(unit, made.balance.total.value, made.balance.total.u).number}</td>
              <td>
                {
                  massChangeShown(
                    unit,
                    made.balance.total.value - capture.balance.total.value,
                    made.balance.total.u,
                  ).number
                }
              </td>
            </tr>
            <tr>
              <th scope="row">Cross, %</th>
              <td>{shareShown(made.balance.crossShare.value, made.balance.crossShare.u).number}</td>
              <td>
                was{' '}
                {shareShown(capture.balance.crossShare.value, capture.balance.crossShare.u).number}
              </td>
            </tr>
          </tbody>
        </table>
      ) : null}
    </section>
  );
};
