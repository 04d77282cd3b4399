import type { ReactElement } from 'react';
import { ToggleButton } from 'react-aria-components/ToggleButton';
import { massShown, inWords } from '../../../core/format/quantity.ts';
import type { MassSet } from '../../../core/sheet/massSet.ts';
import { massFrom, type MassUnit } from '../../../core/units.ts';
import { cx } from '../../parts/cx.ts';
import styles from './MassChoice.module.css';

/** Mass of the masses chosen by the numbers on them, kg. */
export const nominalMass = (set: MassSet, ids: readonly string[]): number =>
  set.masses
    .filter(({ id }) => ids.includes(id))
    .reduce((sum, { nominal }) => sum + massFrom(nominal.unit, nominal.value), 0);

/** Which masses of a set stand on the pad. */
export const MassChoice = ({
  set,
  chosen,
  unit,
  onChange,
}: {
  readonly set: MassSet;
  readonly chosen: readonly string[];
  readonly unit: MassUnit;
  readonly onChange: (ids: readonly string[]) => void;
}): ReactElement => (
  <fieldset className={styles['masses']}>
    <legend>
      On the pad:{' '}
      <strong>{inWords(massShown(unit, nominalMass(set, chosen), { decimals: 1 }))}</strong>
    </legend>
    <div className={styles['each']}>
      {set.masses.map(({ id, label }) => (
        <ToggleButton
          key={id}
          className={cx(styles['mass'])}
          isSelected={chosen.includes(id)}
          onChange={(isOn) =>
            onChange(isOn ? [...chosen, id] : chosen.filter((each) => each !== id))
          }
        >
          {label}
        </ToggleButton>
      ))}
    </div>
  </fieldset>
);
