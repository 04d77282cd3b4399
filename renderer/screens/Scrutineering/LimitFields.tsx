import { useState, type ReactElement } from 'react';
import { BLANK_CAR_DETAILS } from '../../../core/sheet/blankCarDetails.ts';
import type { RuleLimit } from '../../../core/sheet/carDetails.ts';
import { Field } from '../../parts/Field.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Screen.module.css';
import type { Scrutineering } from './useScrutineering.ts';
import { wantedOf } from '../../../core/format/wantedOf.ts';

/** What the rules limit on this car. */
export const LimitFields = ({ own }: { readonly own: Scrutineering }): ReactElement => {
  const { note, give } = useCommand();
  const [takenOut, setTakenOut] = useState<RuleLimit | null>(null);
  const { car, settings } = own.state;
  const details = car.details ?? BLANK_CAR_DETAILS;
  const limits = details.ruleLimits;
  const { items } = own.sources;
  const keep = (ruleLimits: RuleLimit[]): void =>
    void give(
      { do: 'use car', car: { ...car, details: { ...details, ruleLimits } } },
      { doing: 'Storing.', done: () => 'Stored.' },
    );
  const change = (next: RuleLimit): void =>
    keep(limits.map((each) => (each.item === next.item ? next : each)));
  const free = [...items.values()].filter(({ id }) => limits.every(({ item }) => item !== id));
  return (
    <section className={styles['part']} aria-label="Limits">
      <h2>What the rules limit</h2>
      <ul className={styles['limits']}>
        {limits.map((limit) => {
          const wanted = wantedOf(items.get(limit.item) ?? null, settings.massUnit);
          return (
            <li key={limit.item}>
              <strong>{items.get(limit.item)?.label ?? limit.item}</strong>
              <Field
                label="At least"
                text={quantityField(wanted, limit.least)}
                inputMode="decimal"
                understand={understandOrNone({
                  ...wanted,
                  none: 'no lower limit',
                  refuse: (value) =>
                    limit.most !== null && value > limit.most ? 'Above the upper limit.' : null,
                })}
                onCommit={(least) => change({ ...limit, least })}
              />
              <Field
                label="At most"
                text={quantityField(wanted, limit.most)}
                inputMode="decimal"
                understand={understandOrNone({
                  ...wanted,
                  none: 'no upper limit',
                  refuse: (value) =>
                    limit.least !== null && value < limit.least ? 'Below the lower limit.' : null,
                })}
                onCommit={(most) => change({ ...limit, most })}
              />
              <PushButton
                small
                look="quiet"
                onPress={() => {
                  keep(limits.filter(({ item }) => item !== limit.item));
                  setTakenOut(limit);
                }}
              >
                Take out
              </PushButton>
            </li>
          );
        })}
      </ul>
      <footer className={styles['actions']}>
        <NoteLine note={note} />
        {takenOut && limits.every(({ item }) => item !== takenOut.item) ? (
          <PushButton small onPress={() => keep([...limits, takenOut])}>
            Put back {items.get(takenOut.item)?.label ?? takenOut.item}
          </PushButton>
        ) : null}
        <Pick
          label="Add a limit for"
          options={free.map(({ id, label }) => ({ value: id, text: label }))}
          value={null}
          placeholder="an item"
          onChange={(item) => keep([...limits, { item, least: null, most: null }])}
        />
      </footer>
    </section>
  );
};
