import type { ReactElement } from 'react';
import {
  asAgreed,
  CAR_STATE_ITEMS,
  checkCarState,
  UNCHECKED_CAR_STATE,
  type CarState,
  type CarStateItem,
} from '../../../core/sheet/carState.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { massShown } from '../../../core/format/quantity.ts';
import { typedMass } from '../../../core/format/typed.ts';
import type { MassUnit } from '../../../core/units.ts';
import { CautionText } from '../../parts/CautionText.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './StatePanel.module.css';

const YES_NO = [
  { value: 'yes', text: 'yes' },
  { value: 'no', text: 'no' },
] as const;
const WHEELS = [
  { value: 'set-up wheels', text: 'set-up wheels' },
  { value: 'tyres', text: 'tyres' },
] as const;

const isMassItem = (item: CarStateItem): item is 'seatMass' | 'fuelMass' =>
  item === 'seatMass' || item === 'fuelMass';

const massText = (mass: number | null, unit: MassUnit): string => {
  if (mass === null) return '';
  const { number } = massShown(unit, mass, { decimals: 1 });
  return `${number} ${unit}`;
};

const agreedText = (value: CarState[CarStateItem], unit: MassUnit): string =>
  value === null || value === 'not checked'
    ? 'nothing agreed yet'
    : `agreed ${typeof value === 'number' ? massText(value, unit) : value}`;

interface ItemProps {
  readonly item: CarStateItem;
  readonly label: string;
  readonly state: CarState;
  readonly unit: MassUnit;
  readonly onChange: (state: CarState) => void;
}

const Item = ({ item, label, state, unit, onChange }: ItemProps): ReactElement => {
  if (isMassItem(item))
    return (
      <Field
        label={label}
        text={massText(state[item], unit)}
        inputMode="decimal"
        understand={(text) => {
          if (text.trim() === '') return { ok: true, value: null, said: 'not checked' };
          const typed = typedMass(text, unit);
          if (!typed.ok) return typed;
          const most = item === 'seatMass' ? 300 : 500;
          if (typed.value < 0 || typed.value > most)
            return { ok: false, why: `Between 0 and ${massText(most, unit)}.` };
          return { ok: true, value: typed.value, said: massText(typed.value, unit) };
        }}
        onCommit={(value: number | null) => onChange({ ...state, [item]: value })}
      />
    );
  return (
    <div className={styles['line']}>
      <span aria-hidden="true">{label}</span>
      {item === 'wheels' ? (
        <Choice
          label={label}
          labelUnseen
          options={WHEELS}
          value={state.wheels === 'not checked' ? null : state.wheels}
          onChange={(wheels) => onChange({ ...state, wheels })}
        />
      ) : (
        <Choice
          label={label}
          labelUnseen
          options={YES_NO}
          value={state[item] === 'not checked' ? null : state[item]}
          onChange={(value) => onChange({ ...state, [item]: value })}
        />
      )}
    </div>
  );
};

/** The state of the car: looked at before it is weighed, and stored with each capture. */
export const StatePanel = ({ state }: { readonly state: BenchState }): ReactElement => {
  const { note, give } = useCommand();
  const { carState, agreedCarState, settings } = state;
  const notes = checkCarState(carState, agreedCarState);
  const set = (next: CarState): void => void give({ do: 'set car state', state: next });
  return (
    <div className={styles['state']}>
      <p>
        {notes.length === 0
          ? 'All as agreed.'
          : `${notes.length} of ${CAR_STATE_ITEMS.length} not as agreed or not checked. A capture is stored with them.`}
      </p>
      <div className={styles['buttons']}>
        <PushButton
          onPress={() => set(asAgreed(carState, agreedCarState))}
          isDisabled={notes.length === 0}
        >
          All as agreed
        </PushButton>
        <PushButton small onPress={() => void give({ do: 'agree car state', state: carState })}>
          This is what we agree
        </PushButton>
        <PushButton small onPress={() => set(UNCHECKED_CAR_STATE)}>
          Check anew
        </PushButton>
      </div>
      <NoteLine note={note} />
      <ul className={styles['list']}>
        {CAR_STATE_ITEMS.map(({ item, label }) => {
          const remark = notes.find((each) => each.item === item);
          return (
            <li key={item} data-remark={remark?.kind}>
              <Item
                item={item}
                label={label}
                state={carState}
                unit={settings.massUnit}
                onChange={set}
              />
              {item === 'fuelMass' ? <CautionText step="at the fuel" /> : null}
              {item === 'wheels' ? <CautionText step="at a wheel" /> : null}
              {remark ? (
                <p className={styles['remark']}>
                  {remark.kind === 'differs' ? '≠ differs' : '○ not checked'};{' '}
                  {agreedText(agreedCarState[item], settings.massUnit)}
                </p>
              ) : null}
            </li>
          );
        })}
      </ul>
    </div>
  );
};
