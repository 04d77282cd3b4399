import { useState, type ReactElement } from 'react';
import type { Authority, Equipment } from '../../../core/contract/scrutineering.ts';
import type { Wanted } from '../../../core/format/valueShown.ts';
import { quantityWords } from '../../../core/scrutineering/quantity.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import {
  quantityField,
  understandOrNone,
  understandQuantity,
} from '../../parts/understandQuantity.ts';
import { StateFields } from './StateFields.tsx';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';

const YES_NO = [
  { value: 'no', text: 'no' },
  { value: 'yes', text: 'yes' },
] as const;

const notBelowZero = (value: number): string | null => (value < 0 ? 'Zero or more.' : null);
const aboveZero = (value: number): string | null => (value <= 0 ? 'Above zero.' : null);

/** What is known of their equipment beside the pairs, and in what state they read the car. */
export const EquipmentFields = ({
  own,
  quantity,
  wanted,
}: {
  readonly own: Scrutineering;
  readonly quantity: string;
  readonly wanted: Wanted;
}): ReactElement | null => {
  const { chosen } = own;
  const [difference, setDifference] = useState<number | null>(null);
  if (!chosen) return null;
  const { authority } = chosen;
  const blank: Equipment = {
    quantity,
    step: null,
    stated: null,
    limitOfError: null,
    poolOthers: false,
    followTrend: false,
  };
  const of = (all: Authority): Equipment =>
    all.equipment.find((each) => each.quantity === quantity) ?? blank;
  const equipment = of(authority);
  const change = (next: Partial<Equipment>): void =>
    own.changeAuthority((now) => ({
      ...now,
      equipment: [
        ...now.equipment.filter((each) => each.quantity !== quantity),
        { ...of(now), ...next },
      ],
    }));
  const shift = equipment.stated?.difference ?? difference;
  return (
    <section className={styles['part']} aria-label="Their equipment">
      <h2>Their equipment for {quantityWords(quantity, own.sources.items)}</h2>
      <div className={styles['fields']}>
        <Field
          label="Limits of error ±"
          text={quantityField(wanted, equipment.limitOfError)}
          inputMode="decimal"
          understand={understandOrNone({ ...wanted, none: 'not known', refuse: aboveZero })}
          onCommit={(limitOfError) => change({ limitOfError })}
        />
        <Field
          label="Theirs less ours, as you state it"
          text={quantityField(wanted, shift)}
          inputMode="decimal"
          understand={understandOrNone({ ...wanted, none: 'not stated' })}
          onCommit={(value) => {
            setDifference(value);
            if (value === null) change({ stated: null });
            else if (equipment.stated)
              change({ stated: { ...equipment.stated, difference: value } });
          }}
        />
        {shift === null ? null : (
          <Field
            label="Its standard uncertainty"
            text={quantityField(wanted, equipment.stated?.u ?? null)}
            inputMode="decimal"
            understand={understandQuantity({ ...wanted, refuse: notBelowZero })}
            onCommit={(u) => change({ stated: { difference: shift, u } })}
          />
        )}
        <Field
          label="Step of their display"
          text={quantityField(wanted, equipment.step)}
          inputMode="decimal"
          understand={understandOrNone({ ...wanted, none: 'not known', refuse: aboveZero })}
          onCommit={(step) => change({ step })}
        />
        <Choice
          label="Take the scatter of the others"
          options={YES_NO}
          value={equipment.poolOthers ? 'yes' : 'no'}
          onChange={(value) => change({ poolOthers: value === 'yes' })}
        />
        <Choice
          label="Follow the trend to today"
          options={YES_NO}
          value={equipment.followTrend ? 'yes' : 'no'}
          onChange={(value) => change({ followTrend: value === 'yes' })}
        />
      </div>
      <StateFields
        legend="When they read the car, any quantity"
        massUnit={own.state.settings.massUnit}
        state={authority.reads}
        onChange={(reads) => own.changeAuthority((now) => ({ ...now, reads }))}
      />
    </section>
  );
};
