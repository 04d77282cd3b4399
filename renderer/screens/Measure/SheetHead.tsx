import { useState, type ReactElement } from 'react';
import { CORNERS, CORNER_NAMES, type Corner } from '../../../core/corners.ts';
import { CROSS_DIAGONALS } from '../../../core/contract/records.ts';
import { QUANTITY_KINDS, type QuantityKind } from '../../../core/format/unitTable.ts';
import { CAR_STATE_ITEMS } from '../../../core/sheet/carState.ts';
import { representedSchema, type SetUpSheet } from '../../../core/sheet/setUpSheet.ts';
import { isUnknown } from '../../../core/sheet/stateDifferences.ts';
import { newId } from '../../newId.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { understandName } from '../../parts/understandName.ts';
import { understandNote } from './understandWho.ts';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

const REPRESENTED = ['driver', 'fuel', 'ballast'] as const;
const ANYWHERE = 'no corner';

/** A free item: anything that the catalogue has not. */
const FreeItems = ({
  sheet,
  onChange,
}: {
  readonly sheet: SetUpSheet;
  readonly onChange: (sheet: SetUpSheet) => void;
}): ReactElement => {
  const [label, setLabel] = useState('');
  const [quantity, setQuantity] = useState<QuantityKind>('length');
  const [corner, setCorner] = useState<Corner | typeof ANYWHERE>(ANYWHERE);
  const add = (): void => {
    const id = newId();
    onChange({
      ...sheet,
      extras: [
        ...sheet.extras,
        { id, label, quantity, corner: corner === ANYWHERE ? null : corner },
      ],
      lines: [...sheet.lines, { item: `extra.${id}`, target: null, tolerance: null, unit: null }],
    });
    setLabel('');
  };
  return (
    <div className={styles['fields']} role="group" aria-label="Free item">
      <Field
        label="Another item, in words"
        text={label}
        understand={understandName}
        onCommit={(next) => setLabel(next.slice(0, 60))}
      />
      <Pick
        label="It is a"
        options={QUANTITY_KINDS.map((value) => ({ value, text: value }))}
        value={quantity}
        onChange={setQuantity}
      />
      <Pick
        label="At"
        options={[
          { value: ANYWHERE, text: ANYWHERE },
          ...CORNERS.map((value) => ({ value, text: CORNER_NAMES[value] })),
        ]}
        value={corner}
        onChange={setCorner}
      />
      <PushButton small isDisabled={label === ''} onPress={add}>
        Add the item
      </PushButton>
    </div>
  );
};

/** Name, diagonal, state, order of work, notes of a sheet. */
export const SheetHead = ({
  measure,
  sheet,
}: {
  readonly measure: Measure;
  readonly sheet: SetUpSheet;
}): ReactElement => {
  const { state } = measure;
  const keep = measure.keepSheet;
  const isOpen = !sheet.released;
  const asked = CAR_STATE_ITEMS.filter(({ item }) => !isUnknown(sheet.state[item]));
  const later = (place: number): void => {
    const [one, other] = [sheet.order[place], sheet.order[place + 1]];
    if (one === undefined || other === undefined) return;
    keep({ ...sheet, order: sheet.order.with(place, other).with(place + 1, one) });
  };
  return (
    <section className={styles['part']} aria-label="About the sheet">
      <h2>About the sheet</h2>
      {isOpen ? (
        <>
          <div className={styles['fields']}>
            <Field
              label="Name"
              text={sheet.name}
              understand={understandName}
              onCommit={(name) => keep({ ...sheet, name })}
            />
            <Choice
              label="Cross % is"
              options={CROSS_DIAGONALS.map((value) => ({ value, text: value }))}
              value={sheet.cross}
              onChange={(cross) => keep({ ...sheet, cross })}
            />
          </div>
          <FreeItems sheet={sheet} onChange={keep} />
          <div className={styles['fields']}>
            {REPRESENTED.map((what) => (
              <Pick
                key={what}
                label={`The ${what} is there as`}
                options={representedSchema.shape[what]
                  .unwrap()
                  .options.map((value) => ({ value, text: value }))}
                value={sheet.represented[what]}
                placeholder="not said"
                onChange={(value) =>
                  keep({ ...sheet, represented: { ...sheet.represented, [what]: value } })
                }
              />
            ))}
          </div>
        </>
      ) : null}
      <p>
        Measured in this state:{' '}
        {asked.length === 0
          ? 'not said yet.'
          : `${asked
              .map(({ item, label }) => {
                const value = sheet.state[item];
                return `${label.toLowerCase()}: ${typeof value === 'number' ? `${value} kg` : (value ?? '')}`;
              })
              .join('; ')}.`}
      </p>
      {isOpen ? (
        <div className={styles['buttons']}>
          <PushButton small onPress={() => keep({ ...sheet, state: state.agreedCarState })}>
            As the crew agreed
          </PushButton>
          <PushButton small onPress={() => keep({ ...sheet, state: state.carState })}>
            As the car is now
          </PushButton>
        </div>
      ) : null}
      <details className={styles['changes']}>
        <summary>Order of work</summary>
        <ol className={styles['order']}>
          {sheet.order.map((step, place) => (
            <li key={step}>
              {step}
              {isOpen && place < sheet.order.length - 1 ? (
                <PushButton
                  small
                  look="quiet"
                  aria-label={`${step}: later`}
                  onPress={() => later(place)}
                >
                  Later
                </PushButton>
              ) : null}
            </li>
          ))}
        </ol>
      </details>
      {isOpen ? (
        <Field
          label="Notes"
          text={sheet.notes}
          understand={understandNote(8000)}
          onCommit={(notes) => keep({ ...sheet, notes })}
        />
      ) : (
        <p>{sheet.notes}</p>
      )}
    </section>
  );
};
