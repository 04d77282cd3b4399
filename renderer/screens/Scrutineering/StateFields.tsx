import type { ReactElement } from 'react';
import type { KeptPair } from '../../../core/contract/scrutineering.ts';
import { TYRE_STATES } from '../../../core/scrutineering/pair.ts';
import type { MassUnit } from '../../../core/units.ts';
import { Field } from '../../parts/Field.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import styles from './Screen.module.css';

type State = KeptPair['states']['ours'];

const UNKNOWN = 'not checked';

/** Seat, fuel and tyres with which a reading was or will be taken. */
export const StateFields = ({
  legend,
  massUnit,
  state,
  onChange,
}: {
  readonly legend: string;
  readonly massUnit: MassUnit;
  readonly state: State;
  readonly onChange: (state: State) => void;
}): ReactElement => {
  const wanted = { kind: 'mass', unit: massUnit } as const;
  const mass = understandOrNone({
    ...wanted,
    none: UNKNOWN,
    refuse: (value) => (value < 0 || value > 500 ? 'From nothing to 500 kg.' : null),
  });
  return (
    <fieldset className={styles['state']}>
      <legend>{legend}</legend>
      <Field
        label="Driver or dummy"
        text={quantityField(wanted, state.seatMass)}
        inputMode="decimal"
        understand={mass}
        onCommit={(seatMass) => onChange({ ...state, seatMass })}
      />
      <Field
        label="Fuel"
        text={quantityField(wanted, state.fuelMass)}
        inputMode="decimal"
        understand={mass}
        onCommit={(fuelMass) => onChange({ ...state, fuelMass })}
      />
      <Pick
        label="Tyres"
        options={[UNKNOWN, ...TYRE_STATES].map((value) => ({ value, text: value }))}
        value={state.tyres ?? UNKNOWN}
        onChange={(value) =>
          onChange({ ...state, tyres: TYRE_STATES.find((each) => each === value) ?? null })
        }
      />
    </fieldset>
  );
};
