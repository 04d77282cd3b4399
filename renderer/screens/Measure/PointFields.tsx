import { useState, type ReactElement } from 'react';
import { MM } from '../../../core/format/valueShown.ts';
import type { HeightPoint } from '../../../core/sheet/carDetails.ts';
import { newId } from '../../newId.ts';
import { Field } from '../../parts/Field.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { quantityField, understandQuantity } from '../../parts/understandQuantity.ts';
import type { DetailsProps } from './CarPart.tsx';
import { within } from './lengths.ts';
import styles from './Screen.module.css';

/** Marks on the car from which ride heights are measured. */
export const PointFields = ({ measure, details, change }: DetailsProps): ReactElement => {
  const [takenOut, setTakenOut] = useState<HeightPoint | null>(null);
  const points = details.heightPoints;
  const keep = (heightPoints: HeightPoint[]): void => change({ heightPoints });
  const one = (next: HeightPoint): void =>
    keep(points.map((each) => (each.id === next.id ? next : each)));
  return (
    <section className={styles['part']} aria-label="Reference points">
      <h2>Reference points of the ride heights</h2>
      <div className={styles['rows']}>
        {points.map((point) => (
          <div key={point.id} role="group" aria-label={point.name}>
            <Field
              label="Point"
              text={point.name}
              understand={understandName}
              onCommit={(name) => one({ ...point, name: name.slice(0, 60) })}
            />
            <Field
              label="Ahead of the front axle (behind −)"
              text={quantityField(MM, point.x)}
              inputMode="decimal"
              understand={understandQuantity({ ...MM, refuse: within(-15, 5) })}
              onCommit={(x) => one({ ...point, x })}
            />
            <Field
              label="Left of the middle (right −)"
              text={quantityField(MM, point.y)}
              inputMode="decimal"
              understand={understandQuantity({ ...MM, refuse: within(-3, 3) })}
              onCommit={(y) => one({ ...point, y })}
            />
            <Field
              label="Above the flat floor"
              text={quantityField(MM, point.above)}
              inputMode="decimal"
              understand={understandQuantity({ ...MM, refuse: within(-1, 1) })}
              onCommit={(above) => one({ ...point, above })}
            />
            <PushButton
              small
              look="quiet"
              aria-label={`Take out ${point.name}`}
              onPress={() => {
                setTakenOut(point);
                keep(points.filter(({ id }) => id !== point.id));
              }}
            >
              Take out
            </PushButton>
          </div>
        ))}
      </div>
      <div className={styles['buttons']}>
        <PushButton
          small
          onPress={() =>
            keep([
              ...points,
              { id: newId(), name: `point ${points.length + 1}`, x: 0, y: 0, above: 0 },
            ])
          }
        >
          Add a point
        </PushButton>
        {takenOut && !points.some(({ id }) => id === takenOut.id) ? (
          <PushButton small look="quiet" onPress={() => keep([...points, takenOut])}>
            Put back {takenOut.name}
          </PushButton>
        ) : null}
        <span className={styles['help']}>
          {measure.record ? 'A point that is taken out keeps its readings in the records.' : ''}
        </span>
      </div>
    </section>
  );
};
