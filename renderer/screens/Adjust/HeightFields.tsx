import type { ReactElement } from 'react';
import type { HeightGoal } from '../../../core/adjust/targets.ts';
import { MM } from '../../../core/format/valueShown.ts';
import type { Measured } from '../../../core/measured.ts';
import { Field } from '../../parts/Field.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import { heightByHand } from './heightByHand.ts';
import styles from './Screen.module.css';

/** Ride heights measured by hand, to go with the next reading of the pads. */
export const HeightFields = ({
  goals,
  typed,
  onChange,
}: {
  readonly goals: readonly HeightGoal[];
  readonly typed: readonly (Measured | null)[];
  readonly onChange: (next: readonly (Measured | null)[]) => void;
}): ReactElement => (
  <section className={styles['fields']} aria-label="Ride heights now">
    <p className={styles['help']}>
      Ride heights for the next reading. None need be measured: loads cannot name the corner that
      was turned, one height can. Taken as good to ±0.2 mm.
    </p>
    {goals.map(({ point }, index) => (
      <Field
        key={point.name}
        label={`Measured, ${point.name}`}
        text={quantityField(MM, typed[index]?.value ?? null)}
        understand={understandOrNone({
          ...MM,
          none: 'not measured',
          refuse: (value) => (value > 0 && value < 1 ? null : 'Above 0, below 1000 mm.'),
        })}
        onCommit={(value) =>
          onChange(
            goals.map((_, i) =>
              i === index ? (value === null ? null : heightByHand(value)) : (typed[i] ?? null),
            ),
          )
        }
      />
    ))}
  </section>
);
